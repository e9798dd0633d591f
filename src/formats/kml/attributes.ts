import type { Column } from '../../engine/layers/source.ts';
import { decimalIn } from '../text/decimal.ts';
import { textColumnOf } from '../text-column.ts';
import { refuseXml, type XmlElement } from '../xml/read-xml.ts';
import { attribute, childNamed, childrenNamed, textIn } from '../xml/tree.ts';

/** Cells a table of attributes may have: a column that is new in every placemark would fill any memory. */
const MAX_CELLS = 50_000_000;
const NUMBERS = ['int', 'uint', 'short', 'ushort', 'float', 'double'];

/** Kind of each declared field, by its name: schemas of one file seldom contradict each other, and then text is safe. */
export type FieldKinds = ReadonlyMap<string, Column['kind']>;

export function fieldKinds(schemas: readonly XmlElement[]): FieldKinds {
  const kinds = new Map<string, Column['kind']>();
  for (const field of schemas.flatMap((schema) => childrenNamed(schema, 'SimpleField'))) {
    const name = attribute(field, 'name');
    const number = NUMBERS.includes(attribute(field, 'type')) && kinds.get(name) !== 'text';
    kinds.set(name, number ? 'number' : 'text');
  }
  return kinds;
}

/**
 * Columns of placemarks: name and description, then what their ExtendedData hold, in the order they first appear.
 * Name, description and fields declared as text are text; another column is of numbers when every value is one and none
 * is written like an id (007). Markup in a description stays text. Throws a Refusal for more cells than memory should hold.
 */
export function attributeColumns(
  placemarks: readonly XmlElement[],
  kinds: FieldKinds,
  where: string,
): Column[] {
  const columns = new Map<string, Map<number, string>>();
  placemarks.forEach((placemark, row) => {
    for (const [key, text] of valuesOf(placemark)) {
      if (text === '') continue;
      const column = columns.get(key) ?? new Map<number, string>();
      columns.set(key, column);
      const before = column.get(row);
      column.set(row, before === undefined ? text : `${before}; ${text}`);
    }
  });
  if (columns.size * placemarks.length > MAX_CELLS) {
    const found = `${columns.size} different attributes in ${placemarks.length} placemarks`;
    refuseXml('kml-attributes', where, found, 'placemarks with the same attributes');
  }
  return [...columns].map(([key, values]) => {
    const name = key.slice(1);
    const texts = placemarks.map((_, row) => values.get(row) ?? null);
    return columnOf(name, texts, key[0] === ELEMENT ? 'text' : kinds.get(name));
  });
}

/** Own elements and data of one name are columns of their own: the first letter of a key keeps them apart. */
const ELEMENT = 'e';
const DATA = 'd';

function valuesOf(placemark: XmlElement): [string, string][] {
  const values: [string, string][] = [];
  for (const name of ['name', 'description']) {
    const element = childNamed(placemark, name);
    if (element) values.push([ELEMENT + name, textIn(element)]);
  }
  for (const data of childrenNamed(placemark, 'ExtendedData').flatMap(({ children }) => children)) {
    if (data.name === 'SchemaData') {
      for (const field of childrenNamed(data, 'SimpleData'))
        values.push([DATA + attribute(field, 'name'), textIn(field)]);
    } else if (data.name === 'Data') {
      const value = childNamed(data, 'value');
      values.push([DATA + attribute(data, 'name'), value ? textIn(value) : '']);
    } else values.push([DATA + data.name, textIn(data)]);
  }
  return values;
}

function columnOf(
  name: string,
  texts: readonly (string | null)[],
  declared: Column['kind'] | undefined,
): Column {
  const numbers =
    declared !== 'text' &&
    texts.every((text) => text === null || !Number.isNaN(decimalIn(text))) &&
    (declared === 'number' || !texts.some((text) => text !== null && /^[+-]?0\d/.test(text)));
  if (numbers) {
    const values = Float64Array.from(texts, (text) => (text === null ? Number.NaN : decimalIn(text)));
    return { name, kind: 'number', values };
  }
  return textColumnOf(name, texts);
}
