import { columnKey } from './column-key.ts';
import {
  guessSoilColumns,
  type SoilMeasure,
  saysYield,
  soilColumnRank,
  soilUnit,
} from './guess-soil-columns.ts';
import { joinTables, type TableStep } from './join-tables.ts';
import type { Column, Source } from './source.ts';

/** A step of a chain; its table by its place in the list. */
export interface SoilStep extends Omit<TableStep, 'table'> {
  readonly table: number;
}

/** A way from soil polygons to a value that says what the ground can yield. */
export interface SoilChain {
  /** None where the polygons hold the value themselves. */
  readonly steps: readonly SoilStep[];
  readonly column: string;
  readonly meaning: 'yield' | 'index';
  readonly measure: SoilMeasure | 'as named';
  /** As the survey publishes it, '' where it has none. */
  readonly unit: string;
  /** Polygons that get a value. */
  readonly covered: number;
}

/** Keys of the public soil survey from coarse to fine: a map unit by its symbol (of one survey area) and by its key, one of its components. */
const KEYS = ['musym', 'mukey', 'cokey'];
const MOST_STEPS = 4;
/** Share of the polygons another way reaches, under which a better measure is not worth the ground it leaves unknown. Our own choice. */
const ENOUGH = 0.75;
/** Water is held to the depth of 150 cm that the survey's own sums go to; organic matter counts in the plough layer. Common practice, no source. */
const WATER_TO_CM = 150;
const TOPSOIL_CM = 30;
const MEASURES: readonly SoilChain['measure'][] = [
  'as named',
  'crop yield',
  'productivity',
  'water held',
  'organic matter',
];

/**
 * The ways from polygons to a value through any set of tables, best first. A yield rating of the crop comes before an index of productivity, that before water
 * held, that before organic matter; of ways to the same the shortest. Ways that give fewer than three quarters as many polygons a value as another
 * come after those that give more. `column`: only ways to a column of this name.
 */
export function soilChains(
  polygons: Source,
  tables: readonly Source[],
  crop: string,
  column: string | null = null,
): SoilChain[] {
  const routes = soilRoutes(polygons, tables);
  const found = [...routes, []].flatMap((route) => {
    const last = route.length === 0 ? polygons : tables[route[route.length - 1].table];
    return valuesOf(last, crop, column, route.length > 0).map((value) =>
      chainOf(polygons, tables, route, value),
    );
  });
  const known = found.filter(({ covered }) => covered > 0);
  const most = known.reduce((largest, { covered }) => Math.max(largest, covered), 0);
  const order = (chain: SoilChain) => [
    Number(chain.covered < ENOUGH * most),
    MEASURES.indexOf(chain.measure),
    soilColumnRank(chain.column, crop),
    // What was given as a table was given for a reason: it comes before what the polygons hold.
    chain.steps.length === 0 ? MOST_STEPS + 1 : chain.steps.length,
    -chain.covered,
  ];
  return known.sort((a, b) => {
    const [of, than] = [order(a), order(b)];
    const k = of.findIndex((rank, i) => rank !== than[i]);
    return k < 0 ? 0 : of[k] - than[k];
  });
}

type Link = Pick<SoilStep, 'table' | 'fromKey' | 'toKey'>;

/** Every shortest way from the polygons to each table by keys both hold; a way goes on only by a finer key than it came by. */
export function soilRoutes(polygons: Source, tables: readonly Source[]): (readonly Link[])[] {
  const done: (readonly Link[])[] = [];
  const reached = new Set<number>();
  let ends: (readonly Link[])[] = [[]];
  for (let step = 0; step < MOST_STEPS && ends.length > 0; step++) {
    ends = ends.flatMap((route) => {
      const end = route[route.length - 1];
      const from = end ? tables[end.table] : polygons;
      const finerThan = end ? KEYS.indexOf(columnKey(end.toKey)) : -1;
      return tables.flatMap((table, k) =>
        reached.has(k)
          ? []
          : KEYS.slice(finerThan + 1)
              .reverse()
              .flatMap((wanted): (readonly Link[])[] => {
                const [own, other] = [keyColumn(from, wanted), keyColumn(table, wanted)];
                return own && other ? [[...route, { table: k, fromKey: own.name, toKey: other.name }]] : [];
              }),
      );
    });
    for (const route of ends) reached.add(route[route.length - 1].table);
    done.push(...ends);
  }
  return done;
}

/** A key's column; one doubled by a join before (`mukey.x`) counts. */
function keyColumn(source: Source, wanted: string): Column | undefined {
  return (
    source.columns.find(({ name }) => columnKey(name) === wanted) ??
    source.columns.find(({ name }) => new RegExp(`^${wanted}[xy]$`).test(columnKey(name)))
  );
}

function numbersCalled(source: Source, wanted: string): Column | undefined {
  return source.columns.find(({ name, kind }) => kind === 'number' && columnKey(name) === wanted);
}

interface Value extends Pick<SoilChain, 'column' | 'meaning' | 'measure'> {
  readonly where: TableStep['where'];
  readonly depth: TableStep['depth'];
}

function valuesOf(source: Source, crop: string, column: string | null, joined: boolean): Value[] {
  const plain = guessSoilColumns(source, crop).map((guess) => ({ ...guess, depth: null }));
  const values: Value[] = [...plain, ...(joined ? horizonValues(source, column) : [])];
  if (column === null) return values;
  const named = values.find((value) => value.column === column);
  if (named) return [{ ...named, measure: 'as named' }];
  if (!source.columns.some(({ name, kind }) => name === column && kind === 'number')) return [];
  const meaning = saysYield(column) ? 'yield' : 'index';
  return [{ column, meaning, measure: 'as named', where: plain[0]?.where ?? null, depth: null }];
}

/** Of a table of horizons: water held, which adds up over depth; organic matter, and any column named, which are averaged. */
function horizonValues(source: Source, column: string | null): Value[] {
  const called = (wanted: string) => numbersCalled(source, wanted)?.name;
  const [top, bottom] = [called('hzdeptr'), called('hzdepbr')];
  if (top === undefined || bottom === undefined) return [];
  const value = (name: string, measure: Value['measure'], to_cm: number, how: 'mean' | 'sum'): Value => ({
    column: name,
    meaning: 'index',
    measure,
    where: null,
    depth: { top, bottom, from_cm: 0, to_cm, how },
  });
  const [water, organic] = [called('awcr'), called('omr')];
  return [
    ...(water === undefined ? [] : [value(water, 'water held', WATER_TO_CM, 'sum')]),
    ...(organic === undefined ? [] : [value(organic, 'organic matter', TOPSOIL_CM, 'mean')]),
    ...(column === null ||
    column === water ||
    !source.columns.some(({ name, kind }) => name === column && kind === 'number')
      ? []
      : [value(column, 'as named', TOPSOIL_CM, 'mean')]),
  ];
}

function chainOf(
  polygons: Source,
  tables: readonly Source[],
  route: readonly Link[],
  { column, meaning, measure, where, depth }: Value,
): SoilChain {
  const steps = route.map((link, k): SoilStep => {
    const last = k === route.length - 1;
    const own = last ? depth : null;
    // Several components make a map unit, each with its percent of it.
    const weight = numbersCalled(tables[link.table], 'comppctr')?.name;
    return { ...link, where: last ? where : null, weight: own ? null : (weight ?? null), depth: own };
  });
  const unit = meaning === 'yield' ? 'bu/ac' : soilUnit(column, depth?.how ?? 'mean');
  const values =
    steps.length === 0
      ? polygons.columns.find(({ name }) => name === column)
      : joinTables(
          polygons,
          steps.map((step) => ({ ...step, table: tables[step.table] })),
          column,
          'The soils are left out',
        );
  const known =
    values && 'values' in values ? values.values.reduce((n, v) => n + (Number.isNaN(v) ? 0 : 1), 0) : 0;
  return { steps, column, meaning, measure, unit, covered: known };
}
