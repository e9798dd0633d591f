import { columnKey } from '../../layers/column-key.ts';
import { guessSoilColumn } from '../../layers/guess-soil-columns.ts';
import type { Source } from '../../layers/source.ts';
import { columnWords } from './column-words.ts';
import { recogniseColumns } from './recognise-columns.ts';
import { ROLE_WORDS, type Role } from './role.ts';
import { rolesNamed } from './spellings.ts';

export type SourceKind =
  | 'harvest'
  | 'planted'
  | 'samples'
  | 'boundary'
  | 'soils'
  | 'soil table'
  | 'trials'
  | 'lineup'
  | 'raster'
  | 'unknown';

/** What a file is for a plan. */
export interface RecognisedSource {
  readonly kind: SourceKind;
  /** 0 to 1. */
  readonly confidence: number;
  readonly because: string;
}

/** More polygons than this are no field's boundary, nor a farm's. */
const FIELDS = 500;
/** A field's boundary is one polygon, or some for its parts and neighbours. */
const FEW = 20;

/** Keys of the public soil survey: of map units, components and horizons. */
const SOIL_KEY =
  /^(mukey|musym|cokey|chkey|mapunit(symbol)?|muname|soil(type|name|unit|symbol|map)?|bodenart)$/;
/** What laboratories and sensors measure of soil. */
const SOIL_TEST =
  /^_(soil_)?(ph|bph|buffer_ph|om|om_pct|organic_matter|soc|cec|ec|eca|ec_?(sh|dp|shallow|deep|\d+)|sand|silt|clay|phos\w*|potas\w*|magnes\w*|calcium|sulfur|zinc|boron|nitrate|no3(_n)?|p_?(ppm|bray|olsen|m3|mehlich)|k_?(ppm|m3|mehlich)|mg_ppm|ca_ppm|zn(_ppm)?|p1|p2|base_sat\w*)(_(pct|ppm|meq|ds_m|ms_m|mg_kg|cm|in))*_$/;

/** What kind of thing a source is, by its shape and its columns; `crop` is the crop planned. */
export function recogniseSource(source: Source, crop: string): RecognisedSource {
  if (source.shape === 'raster') return { kind: 'raster', confidence: 1, because: 'pixels' };
  if (source.records === 0) return { kind: 'unknown', confidence: 1, because: 'it holds no records' };
  if (source.shape === 'polygons') return polygons(source, crop);
  return source.shape === 'points' ? points(source, crop) : table(source);
}

function polygons(source: Source, crop: string): RecognisedSource {
  const key = source.columns.find(({ name }) => SOIL_KEY.test(columnKey(name)));
  if (key) return { kind: 'soils', confidence: 0.95, because: `polygons with soils by ${key.name}` };
  const value = guessSoilColumn(source, crop);
  const rate = named(source, 'rate') ?? named(source, 'target');
  if (rate && !value)
    return {
      kind: 'unknown',
      confidence: 0.6,
      because: `polygons with rates by ${rate}: a prescription or a trial`,
    };
  if (value && source.records > 1)
    return {
      kind: 'soils',
      confidence: 0.8,
      because: `polygons with ${value.column}, which says what ground can yield`,
    };
  if (source.records <= FEW)
    return { kind: 'boundary', confidence: 0.85, because: `${count(source.records)} without soils` };
  if (source.records <= FIELDS)
    return {
      kind: 'boundary',
      confidence: 0.6,
      because: `${source.records} polygons without soils: fields, as it seems`,
    };
  return {
    kind: 'unknown',
    confidence: 0.5,
    because: `${source.records} polygons without a column of soils`,
  };
}

function points(source: Source, crop: string): RecognisedSource {
  const { columns, candidates, questions } = recogniseColumns(source, crop);
  const [best] = candidates.yield;
  const logged = (
    ['moisture', 'swath', 'distance', 'speed', 'heading', 'time', 'pass', 'header'] as const
  ).filter((role) => columns[role] !== null);
  const tests = source.columns.filter(
    (column) => column.kind === 'number' && SOIL_TEST.test(columnWords(column.name)),
  );
  const flow = columns.flow ?? columns.mass;
  const grain = best ?? (flow && logged.length >= 2 ? flow : undefined);
  const rate = columns.rate ?? columns.target;
  const asked = questions.some(({ about }) => about === 'rate column' || about === 'rate unit');
  // A soil test file may carry a yield goal, a planting log never a flow of grain.
  if (grain && tests.length < 3)
    return {
      kind: 'harvest',
      confidence: Math.min(0.98, 0.6 + 0.06 * logged.length + (flow ? 0.1 : 0)),
      because: `points with ${best ? 'yield' : 'grain'} by ${grain.column}${listed(logged)}`,
    };
  if (tests.length > 0 && !rate)
    return {
      kind: 'samples',
      confidence: tests.length > 1 ? 0.85 : 0.65,
      because: `points with soil measured: ${tests
        .map(({ name }) => name)
        .slice(0, 4)
        .join(', ')}`,
    };
  if (rate || asked)
    return {
      kind: 'planted',
      confidence: Math.min(0.95, 0.6 + 0.06 * logged.length),
      because: `points with a rate by ${(rate ?? candidates.rate[0]).column}${listed(logged)}`,
    };
  return { kind: 'unknown', confidence: 0.5, because: 'points without yield, rate or soil' };
}

function table(source: Source): RecognisedSource {
  const keys = source.columns.filter(({ name }) => /^(mukey|musym|cokey|chkey)[xy]?$/.test(columnKey(name)));
  if (keys.length > 0) return { kind: 'soil table', confidence: 0.95, because: `a table by ${keys[0].name}` };
  const product =
    named(source, 'product') ??
    source.columns.find(({ name }) => /^(gen|entry|line)$/.test(columnKey(name)))?.name;
  const grain = named(source, 'yield');
  const rate =
    named(source, 'rate') ??
    source.columns.find(({ name }) => /^(pop|plants?|density)/.test(columnKey(name)))?.name;
  const site = source.columns.find(({ name }) =>
    /^(loc|location|site|env|year|rep|block|plot|trial)/.test(columnKey(name)),
  )?.name;
  if (grain && (product || rate || site))
    return {
      kind: 'trials',
      confidence: product || rate ? 0.85 : 0.6,
      because: `a table of ${grain} by ${product ?? rate ?? site}`,
    };
  const sold = source.columns.find(({ name }) =>
    /price|cost|maturity|seedsperunit|traits?$/.test(columnKey(name)),
  );
  if (product && sold)
    return { kind: 'lineup', confidence: 0.7, because: `a table of ${product} with ${sold.name}` };
  return {
    kind: 'unknown',
    confidence: 0.5,
    because: grain ? `a table with ${grain} but without places` : 'a table without places',
  };
}

function named(source: Source, role: Role): string | null {
  return source.columns.find(({ name }) => rolesNamed(columnWords(name)).includes(role))?.name ?? null;
}

function listed(roles: readonly Role[]): string {
  return roles.length === 0
    ? ''
    : `, ${roles
        .slice(0, 3)
        .map((role) => ROLE_WORDS[role])
        .join(', ')}`;
}

function count(records: number): string {
  return records === 1 ? 'one polygon' : `${records} polygons`;
}
