import type { Column, Source } from '../../engine/layers/source.ts';
import { newTally, note, tallyText } from '../tally.ts';
import { decimalIn } from '../text/decimal.ts';
import { textColumnOf } from '../text-column.ts';
import type { XmlElement } from '../xml/read-xml.ts';
import { attribute, childrenNamed } from '../xml/tree.ts';
import { isoIssue } from './iso-refusal.ts';
import { polygonSource } from './polygon-source.ts';
import { ringsOf } from './rings.ts';
import type { TaskData } from './task-data.ts';

const BOUNDARY = '1';
const MAIN_FIELD = '9';
const TYPES: Readonly<Record<string, string>> = {
  2: 'treatment zone',
  3: 'water',
  4: 'building',
  5: 'road',
  6: 'obstacle',
  7: 'flag',
  8: 'other',
  9: 'main field',
  10: 'headland',
  11: 'buffer',
  12: 'windbreak',
};

/**
 * The fields (PFD) of a task file: id, name, code, stated area in m² (0 stands for not known), grower, farm and crop; the
 * field boundary as rings, or the main field where there is none. Null without fields.
 */
export function readFields(data: TaskData): Source | null {
  const fields = data.all('PFD');
  if (fields.length === 0) return null;
  const file = `${data.name} › fields`;
  const ids = fields.map((field) => attribute(field, 'A'));
  const others = newTally();
  const shapes = fields.map((field, index) => {
    const polygons = childrenNamed(field, 'PLN');
    const boundary = ofType(polygons, BOUNDARY);
    const used = boundary.length > 0 ? boundary : ofType(polygons, MAIN_FIELD);
    for (const polygon of polygons) {
      const type = attribute(polygon, 'A');
      if (!used.includes(polygon)) note(others, `${ids[index]} (${TYPES[type] ?? `type '${type}'`})`);
    }
    return ringsOf(used);
  });
  const text = (name: string, letter: string) =>
    textColumnOf(
      name,
      fields.map((field) => attribute(field, letter) || null),
    );
  /** The name of what a field refers to. */
  const named = (name: string, letter: string) =>
    textColumnOf(
      name,
      fields.map((field, index) => {
        const found = data.find(attribute(field, letter), ids[index]);
        return found ? attribute(found, 'B') || null : null;
      }),
    );
  const area: Column = {
    name: 'area m2',
    kind: 'number',
    values: Float64Array.from(fields, (field) => decimalIn(attribute(field, 'D')) || Number.NaN),
  };
  const optional = [text('code', 'B'), named('grower', 'E'), named('farm', 'F'), named('crop', 'G')];
  const columns = [
    text('id', 'A'),
    text('name', 'C'),
    area,
    ...optional.filter((column) => column.kind === 'text' && column.levels.length > 0),
  ];
  const source = polygonSource(file, shapes, ids, columns);
  if (others.count === 0) return source;
  const issue = isoIssue(
    'iso-polygons-not-used',
    'note',
    file,
    tallyText(others, 'polygons of'),
    'field boundaries',
    'They are not part of the layer',
    'Nothing to do',
  );
  return { ...source, issues: [...source.issues, issue] };
}

function ofType(polygons: readonly XmlElement[], type: string): XmlElement[] {
  return polygons.filter((polygon) => attribute(polygon, 'A') === type);
}
