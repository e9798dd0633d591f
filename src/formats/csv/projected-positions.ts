import { type Crs, crsToLonLat, WGS84 } from '../../engine/geodesy/crs.ts';
import type { Issue } from '../../engine/issue.ts';
import type { Column } from '../../engine/layers/source.ts';
import { missingCrs } from '../crs-check.ts';
import { account, blankPartial, type Found, type Pair } from './placed.ts';
import { nameKey, ZONE, zoneInName } from './position-names.ts';
import { utmCrs, zonesOf } from './utm-zone.ts';

/** Eastings and northings: in the UTM zones the table names, row by row, else in the system given, else in none. */
export function fromProjected(
  pair: Pair,
  columns: readonly Column[],
  rows: number,
  where: string,
  given?: Crs,
): Found {
  const placed = blankPartial(pair.x, pair.y, () => true);
  const zones = zonesFor(pair, columns, rows);
  const system = zones && inZones(placed, zones.of, rows);
  if (system?.kind === 'read') {
    const issue: Issue = {
      code: 'utm-datum-assumed',
      severity: 'warning',
      where,
      found: `UTM ${system.zones.length === 1 ? 'zone' : 'zones'} ${system.zones.join(', ')} ${zones?.from} and no datum`,
      expected: 'a datum',
      effect: `The coordinates are taken on WGS 84${system.zones.length === 1 ? '' : ' and brought to longitude and latitude'}`,
      remedy:
        'Nothing to do on WGS 84, NAD83 or ETRS89, which differ by a metre or two; state the coordinate system if it is another',
    };
    return account(system.crs, system, 0, where, [issue]);
  }
  const said = system ? `; UTM zone '${system.zone}' ${zones?.from} does not tell the hemisphere` : '';
  const found = `columns '${pair.names[0]}' and '${pair.names[1]}' name no coordinate system${said}`;
  const issues = given ? [] : [missingCrs(where, found, [placed])];
  return account(given ?? null, placed, 0, where, issues);
}

function zonesFor(pair: Pair, columns: readonly Column[], rows: number) {
  const named = zoneInName(pair.names[0])?.zone ?? zoneInName(pair.names[1])?.zone;
  if (named) return { of: () => named, from: 'in the names of the columns' };
  const column = columns.find(({ name }) => ZONE.test(nameKey(name)));
  if (!column) return null;
  // A bare number under `zone` may be a management zone.
  if (column.kind === 'number' && !nameKey(column.name).includes('utm')) return null;
  return { of: zonesOf(column, rows), from: `in column '${column.name}'` };
}

type InZones =
  | {
      readonly kind: 'read';
      readonly crs: Crs;
      readonly zones: readonly string[];
      readonly x: Float64Array;
      readonly y: Float64Array;
    }
  | { readonly kind: 'unsure'; readonly zone: string };

function inZones(
  { x, y }: Pick<Pair, 'x' | 'y'>,
  zoneOf: (row: number) => string,
  rows: number,
): InZones | null {
  const systems = new Map<string, { crs: Crs; rows: number[] }>();
  for (let row = 0; row < rows; row++) {
    if (Number.isNaN(x[row])) continue;
    const zone = zoneOf(row).trim();
    const known = systems.get(zone);
    if (known && !/s$/i.test(zone)) known.rows.push(row);
    else {
      const crs = utmCrs(zone, y[row]);
      // Words in such a column name management zones.
      if (!crs) return /^\D*\d{1,2}\s*[a-z]?$/i.test(zone) ? { kind: 'unsure', zone } : null;
      if (known) known.rows.push(row);
      else systems.set(zone, { crs, rows: [row] });
    }
  }
  const all = [...systems.values()];
  if (all.length === 0) return null;
  const zones = [...systems.keys()];
  if (all.every(({ crs }) => crs.code === all[0].crs.code))
    return { kind: 'read', crs: all[0].crs, zones, x, y };
  const [lon, lat] = [x.slice(), y.slice()];
  for (const { crs, rows: own } of all) {
    const placed = crsToLonLat(
      crs,
      Float64Array.from(own, (row) => x[row]),
      Float64Array.from(own, (row) => y[row]),
    );
    for (const [k, row] of own.entries()) {
      lon[row] = placed.lon[k];
      lat[row] = placed.lat[k];
    }
  }
  return { kind: 'read', crs: WGS84, zones, x: lon, y: lat };
}
