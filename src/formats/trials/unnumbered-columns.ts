import { figuresOf } from '../../engine/harvest/recognise/figures.ts';
import type { Column } from '../../engine/layers/source.ts';
import { figureCells } from './figure-cells.ts';
import { headerText } from './header-text.ts';
import { isSummaryWord } from './summary-rows.ts';
import type { TrialSheet } from './trial-sheet.ts';
import { isAveraged, roleNamed } from './trial-words.ts';

/** What a yield is called, with its unit, beside the name of a place or a product. */
const YIELD_WORDS =
  /\b(grain\s*)?(yields?|yld|ertrag|kornertrag|rendement|rdt|rendimiento|opbrengst|udbytte)\b|\([^)]*\)|\b(bu|bushels|lbs?|kg|t|dt|q)\s*(\/|per\s+)\s*(ac(re)?|a|ha)\b|\bbpa\b/gi;
/** What tells kinds of yield apart, not places. */
const KINDS =
  /straw|stover|grain|total|market|biomass|silage|forage|early|late|hand|machine|combine|wet|dry|raw|adj|corr|moist|net|gross|main|plot|final|measured|oil|protein|sugar|first|second|cut|\d_pct|_[a-z]_$/;

/** A name without the words of a yield and its unit: of `Ames yield (bu/ac)` the place; '' where nothing is left. */
export function nameBesideYield(name: string): string {
  return name
    .replace(YIELD_WORDS, ' ')
    .replace(/^[\s_:,-]+|[\s_:,-]+$/g, '')
    .replace(/\s+/g, ' ');
}

/** Columns each called a yield of something by name, as of places: `Ames yield`, `Boone yield`. */
export function namedYields(columns: readonly Column[]): readonly Column[] {
  const yields = columns.filter(({ name }) => roleNamed(name)?.role === 'yield' && !isAveraged(name));
  const beside = yields.map(({ name }) => nameBesideYield(name));
  const apart = new Set(beside.map((own) => own.toLowerCase()));
  const plain = beside.every((own) => /\p{L}{2}/u.test(own) && !KINDS.test(headerText(own)));
  return plain && apart.size === yields.length && yields.length > 1 ? yields : [];
}

/** What is measured of a plot beside its yield, and is no name of a place or a product. */
const MEASURES =
  /height|_ht_|hohe|lodg|lager|_oil_|protein|eiweiss|starch|weight|_wt_|_tw_|_twt_|_tkw_|_tkm_|matur|_rm_|_crm_|_gdu?_|days?_|_date|latit|longit|_lat_|_lon_|elev|rain|precip|temp|price|cost|income|width|length|_area_|spacing|_id_|_no_|_nr_|_num|_n_|rate|_pct_|index|ratio|vigou?r|disease|_ph_|_om_|nitro|soil|damage|injur|flower|silk|tassel|_pods?_|_ears?_|_kernels?_|check|column/;

/** Columns of figures that no word names, all much alike: yields under the names of places or products, as like as not. Fewer than three are not. */
export function unnamedFigures({ columns, figureTexts }: TrialSheet): readonly Column[] {
  const unnamed = columns.flatMap((column) => {
    const { name } = column;
    const named = roleNamed(name) !== null || isSummaryWord(name) || MEASURES.test(headerText(name));
    if (named || !/\p{L}/u.test(name)) return [];
    const cells = figureCells(column, figureTexts(column), 'yield');
    return cells && !areGrades(cells.column.values)
      ? [{ column, middle: figuresOf(cells.column.values).p50 }]
      : [];
  });
  const middles = unnamed.map(({ middle }) => middle);
  const alike = Math.max(...middles) <= MOST_APART * Math.min(...middles);
  return unnamed.length >= 3 && alike ? unnamed.map(({ column }) => column) : [];
}

/** Whole or half grades up to ten, as ratings are given: no yields, though they would do in t/ha. */
function areGrades(values: Float64Array): boolean {
  return values.every((own) => Number.isNaN(own) || (own <= 10 && (2 * own) % 1 === 0));
}

/** Between the medians of a poor place and a good one. Our own choice. */
const MOST_APART = 4;
