import { WGS84 } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';
import type { Source } from '../../engine/layers/source.ts';
import { uniqueNames } from '../column-names.ts';
import type { FileBytes } from '../file-bytes.ts';
import type { Format, Reading, ReadOptions } from '../format.ts';
import { newTally, note } from '../tally.ts';
import { looksLikeMarkup, rootName } from '../xml/prolog.ts';
import { readXml, refuseXml, type XmlElement } from '../xml/read-xml.ts';
import { attributeColumns, type FieldKinds, fieldKinds } from './attributes.ts';
import { type Aside, altitudeIssue, asideIssue, linkIssue, nothingIssue, repairedIssue } from './issues.ts';
import { type Shape, shapeOf } from './shape.ts';

export const kml: Format = {
  id: 'kml',
  title: 'KML',
  extensions: ['kml'],
  recognises: ({ name, bytes }) =>
    rootName(bytes) === 'kml' || (/\.kml$/i.test(name) && looksLikeMarkup(bytes)),
  read: ([file], options) => readKml(file, options),
};

/** A placemark that is used, with its number in the file from 1. */
interface Row<S> {
  readonly record: number;
  readonly placemark: XmlElement;
  readonly shape: S;
}
type Used = Exclude<Shape, { kind: 'aside' }>;

/**
 * A KML document (OGC 07-147r2) in WGS 84: placemarks with polygons, and those with a point, each a layer. Lines, tracks,
 * models and placemarks with unsound coordinates are set aside by number; linked files are not fetched. Throws a Refusal.
 */
export function readKml(file: FileBytes, options: ReadOptions): Reading {
  const { root, issues } = readXml(file);
  if (root.name !== 'kml') refuseXml('kml-root', file.name, `a root element <${root.name}>`, '<kml>');
  const found = elementsIn(root, ['Placemark', 'NetworkLink', 'Schema']);
  const placemarks = found.get('Placemark') ?? [];
  const links = found.get('NetworkLink')?.length ?? 0;
  const rows: Row<Used>[] = [];
  const aside = new Map<string, ReturnType<typeof newTally>>();
  placemarks.forEach((placemark, index) => {
    const shape = shapeOf(placemark, options.swapLonLat);
    if (shape.kind !== 'aside') rows.push({ record: index + 1, placemark, shape });
    else {
      const tally = aside.get(shape.reason) ?? newTally();
      aside.set(shape.reason, tally);
      note(tally, `${index + 1} (${shape.found})`);
    }
  });
  if (rows.length === 0) return { sources: [], issues: [...issues, nothingIssue(file.name, aside, links)] };
  const kinds = fieldKinds(found.get('Schema') ?? []);
  const layers = (['polygon', 'point'] as const)
    .map((kind) => rows.filter(({ shape }) => shape.kind === kind))
    .filter((layer) => layer.length > 0);
  const sources = layers.map((layer, index) =>
    layerOf(layer, {
      file: layers.length > 1 ? `${file.name} › ${layer[0].shape.kind}s` : file.name,
      kinds,
      // What is set aside belongs to no kind of shape: the first layer accounts for it.
      aside: index === 0 ? aside : new Map(),
      issues: index === 0 ? [...issues, ...linkIssue(file.name, links)] : [],
    }),
  );
  return { sources, issues: [] };
}

/** All elements of some names at any depth, but none inside another of them. */
function elementsIn(root: XmlElement, names: readonly string[]): Map<string, XmlElement[]> {
  const found = new Map<string, XmlElement[]>(names.map((name) => [name, []]));
  const visit = (element: XmlElement): void => {
    for (const child of element.children) {
      const list = found.get(child.name);
      if (list) list.push(child);
      else visit(child);
    }
  };
  visit(root);
  return found;
}

function layerOf(
  rows: readonly Row<Used>[],
  about: {
    readonly file: string;
    readonly kinds: FieldKinds;
    readonly aside: Aside;
    readonly issues: readonly Issue[];
  },
): Source {
  const { file } = about;
  const points = rows[0].shape.kind === 'point';
  const [repairs, high] = [newTally(), newTally()];
  for (const { record, shape } of rows) {
    if (shape.repair !== '') note(repairs, `${record} (${shape.repair})`);
    if (shape.high) note(high, record);
  }
  const columns = attributeColumns(
    rows.map(({ placemark }) => placemark),
    about.kinds,
    file,
  );
  const { names, issues: renamed } = uniqueNames(
    columns.map(({ name }) => name),
    file,
  );
  const setAside = Object.fromEntries([...about.aside].map(([reason, { count }]) => [reason, count]));
  const along = (axis: 'x' | 'y') =>
    Float64Array.from(rows, ({ shape }) => (shape.kind === 'point' ? shape[axis] : Number.NaN));
  return {
    file,
    format: 'kml',
    shape: points ? 'points' : 'polygons',
    crs: WGS84,
    records: rows.length,
    x: points ? along('x') : new Float64Array(0),
    y: points ? along('y') : new Float64Array(0),
    rings: points ? [] : rows.map(({ shape }) => (shape.kind === 'polygon' ? shape.rings : null)),
    columns: columns.map((column, i) => ({ ...column, name: names[i] })),
    ledger: {
      read: rows.length + Object.values(setAside).reduce((sum, n) => sum + n, 0),
      used: rows.length - repairs.count,
      repaired: repairs.count,
      setAside,
    },
    issues: [
      ...about.issues,
      ...[...about.aside].map(([reason, tally]) => asideIssue(reason, file, tally)),
      ...(repairs.count > 0 ? [repairedIssue(file, repairs)] : []),
      ...(high.count > 0 ? [altitudeIssue(file, high)] : []),
      ...renamed,
    ],
  };
}
