import type { MoistureBasis } from '../../engine/harvest/moisture-basis.ts';
import { yieldIn_buPerAc } from '../../engine/harvest/yield-unit.ts';
import type { TrialSite, TrialTable } from '../../engine/lineup/trial-table.ts';
import { plainCrop } from '../../engine/math/crop-name.ts';
import { LONGEST_NAME } from '../lineup/name-rule.ts';
import { newTally, note, type Tally } from '../tally.ts';
import type { RowCrops } from './crops-of-rows.ts';
import { mostStand_plantsPerAc, mostYield_buPerAc } from './highest-plot.ts';
import { NameBook } from './name-book.ts';
import { repeatedRows } from './repeated-rows.ts';
import { moistureReader, toBase } from './row-moisture.ts';
import { standReader } from './row-stand.ts';
import { basisOf, yearOf } from './row-values.ts';
import { shortNames } from './short-names.ts';
import type { SummaryRows } from './summary-rows.ts';
import { figuresOfRole, type TrialColumns } from './trial-columns.ts';
import type { TrialSheet } from './trial-sheet.ts';
import type { TrialUnits } from './trial-units.ts';

/** Letters in the longest name of a site a lineup holds. */
export const LONGEST_SITE = 120;

/** Why a row is not a plot. */
export type AsideReason =
  | 'summary-row'
  | 'duplicate-row'
  | 'no-product'
  | 'no-site'
  | 'no-crop'
  | 'no-yield'
  | 'yield-not-possible'
  | 'stand-not-possible'
  | 'no-moisture'
  | 'no-bushel';

export interface PlotsRead {
  readonly table: TrialTable;
  readonly aside: ReadonlyMap<AsideReason, Tally>;
  /** Plots whose stand is not told although the table has a column of it. */
  readonly withoutStand: Tally;
  /** Rows alike that are plots each. */
  readonly alike: Tally;
  /** Words in place of a product in rows that sum up. */
  readonly summaryWords: readonly string[];
  /** Products and sites whose names were cut, each as `long name → name`. */
  readonly cutProducts: readonly string[];
  readonly cutSites: readonly string[];
  /** Products and sites written in several ways. */
  readonly productVariants: readonly string[];
  readonly siteVariants: readonly string[];
  /** Sites whose rows tell several environments: the mean is taken. */
  readonly unevenEnvironments: readonly string[];
  readonly twoDigitYears: number;
}

export interface RowRules {
  readonly columns: TrialColumns;
  readonly units: TrialUnits;
  readonly crops: RowCrops;
  /** Of all rows without a product column. */
  readonly product: string;
  /** Plants a seed where the file does not tell; NaN where nobody does. By crop. */
  readonly emergence: (crop: string) => number;
  /** Of yields no basis column tells. */
  readonly basis: MoistureBasis | 'dry matter';
  readonly summaries: SummaryRows;
}

/** Row by row: a plot of the table, or set aside with its reason. */
export function readPlots(sheet: TrialSheet, rules: RowRules): PlotsRead {
  const { columns, units, crops } = rules;
  const texts = (role: keyof TrialColumns) => (columns[role] ? sheet.texts(columns[role].column) : null);
  const [names, brands, siteNames, trials] = (['product', 'brand', 'site', 'trial'] as const).map(texts);
  const [years, reps, blocks, bases] = (['year', 'rep', 'block', 'basis'] as const).map(texts);
  const yields = figuresOfRole(columns, 'yield');
  const standOf = standReader(rules);
  const moistureOf = moistureReader(columns.moisture?.column);
  const environments = units.environment ? figuresOfRole(columns, 'environment') : null;
  const products = new NameBook();
  const sites = new NameBook();
  const productCrops: string[] = [];
  const siteYears: (number | null)[] = [];
  const told: number[][] = [];
  const blockOf: Map<string, number>[] = [];
  const repeated = repeatedRows(sheet.columns, columns, sheet.records);
  const plots = { product: [] as number[], site: [] as number[], stand: [] as number[], y: [] as number[] };
  const block: number[] = [];
  const aside = new Map<AsideReason, Tally>();
  const withoutStand = newTally();
  let twoDigitYears = 0;

  for (let i = 0; i < sheet.records; i++) {
    const reason = take(i);
    if (reason === null) continue;
    const tally = aside.get(reason) ?? newTally();
    aside.set(reason, tally);
    note(tally, sheet.lines[i]);
  }
  const alike = newTally();
  for (const i of repeated.alike) note(alike, sheet.lines[i]);
  const shortProducts = shortNames(products.names, LONGEST_NAME);
  const shortSites = shortNames(sites.names, LONGEST_SITE);
  const table: TrialTable = {
    products: shortProducts.names.map((name, k) => ({ name, crop: productCrops[k] })),
    sites: shortSites.names.map(
      (name, k): TrialSite => ({
        name,
        year: siteYears[k],
        environment_buPerAc: meanOf(told[k]),
      }),
    ),
    product: Uint32Array.from(plots.product),
    site: Uint32Array.from(plots.site),
    stand_plantsPerAc: Float64Array.from(plots.stand),
    yield_buPerAc: Float64Array.from(plots.y),
    block: Uint32Array.from(block),
  };
  return {
    table,
    aside,
    withoutStand,
    alike,
    summaryWords: rules.summaries.words,
    cutProducts: shortProducts.cut,
    cutSites: shortSites.cut,
    productVariants: products.variants,
    siteVariants: sites.variants,
    unevenEnvironments: sites.names.filter((_, k) =>
      told[k].some((own) => Math.abs(own - told[k][0]) > 0.05),
    ),
    twoDigitYears,
  };

  function take(i: number): AsideReason | null {
    const name = names ? names[i] : rules.product;
    const place = siteNames ? siteNames[i] : trials ? trials[i] : '';
    if (rules.summaries.is(i)) return 'summary-row';
    if (repeated.again(i)) return 'duplicate-row';
    if (name === '') return 'no-product';
    if (place === '' && (siteNames || trials)) return 'no-site';
    const crop = crops.of(i);
    if (crop === '') return 'no-crop';
    if (Number.isNaN(yields[i])) return 'no-yield';
    if (!(yields[i] >= 0)) return 'yield-not-possible';
    const stand = standOf(i, crop);
    if (stand <= 0 || stand > mostStand_plantsPerAc(crop)) return 'stand-not-possible';
    const inBushels = yieldIn_buPerAc(yields[i], units.yield.unit ?? 'unknown', crop);
    if (inBushels === null) return 'no-bushel';
    const own = (bases && basisOf(bases[i])) ?? rules.basis;
    const moisture = own === 'wet' ? moistureOf(i) : own === 'dry matter' ? 0 : null;
    if (own === 'wet' && columns.moisture && Number.isNaN(moisture)) return 'no-moisture';
    const y = inBushels * toBase(moisture, crop);
    if (!(y <= mostYield_buPerAc(crop))) return 'yield-not-possible';
    const season = years ? yearOf(years[i]) : { year: null, rest: '' };
    if (years && /^\d{2}$/.test(years[i].trim())) twoDigitYears++;
    const environment = environments
      ? yieldIn_buPerAc(environments[i], units.environment?.unit ?? 'unknown', crop)
      : null;
    const site = siteIndex(place, season, environments ? plainCrop(crop) : '');
    if (environment !== null && environment > 0 && environment <= mostYield_buPerAc(crop))
      told[site].push(environment);
    const brand = brands?.[i] ?? '';
    const full = brand === '' || startsWith(name, brand) ? name : `${brand} ${name}`;
    const product = products.indexOf(full, plainCrop(crop));
    productCrops[product] ??= crop;
    const part = `${trials && siteNames ? trials[i] : ''}\u0001${blocks?.[i] ?? ''}\u0001${reps?.[i] ?? ''}`;
    const ownBlock = blockOf[site].get(part) ?? blockOf[site].size;
    blockOf[site].set(part, ownBlock);
    plots.product.push(product);
    plots.site.push(site);
    plots.stand.push(stand);
    plots.y.push(y);
    block.push(ownBlock);
    if (Number.isNaN(stand)) note(withoutStand, sheet.lines[i]);
    return null;
  }

  function siteIndex(
    place: string,
    { year, rest }: { year: number | null; rest: string },
    crop: string,
  ): number {
    const site = sites.indexOf([place, rest].filter((own) => own !== '').join(' '), `${year}\u0001${crop}`);
    if (site === siteYears.length) {
      siteYears.push(year);
      told.push([]);
      blockOf.push(new Map());
    }
    return site;
  }
}

function startsWith(name: string, brand: string): boolean {
  return name.toLowerCase().startsWith(brand.toLowerCase());
}

function meanOf(values: readonly number[]): number {
  // About the first, so that the mean of equals is what they are.
  const [first] = values;
  return values.length === 0
    ? NaN
    : first + values.reduce((sum, own) => sum + (own - first), 0) / values.length;
}
