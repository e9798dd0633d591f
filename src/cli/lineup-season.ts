import { type Issue, Refusal } from '../engine/issue.ts';
import { dayName, dayOfYear, type MonthDay } from '../engine/lineup/day-of-year.ts';
import type { MaturityRelation } from '../engine/lineup/maturity-needed.ts';
import type { Product } from '../engine/lineup/product.ts';
import { type Season, type SeasonFit, seasonFit } from '../engine/lineup/season-fit.ts';
import { seasonSentences } from '../engine/lineup/season-fit-words.ts';
import { sameCrop } from '../engine/math/crop-name.ts';
import { readWeather, type WeatherRead } from '../formats/weather/read-weather.ts';
import { TEMPERATURE_UNITS } from '../formats/weather/temperature-unit.ts';
import { type SeasonsOfWeather, weatherDegreeDays } from '../formats/weather/weather-degree-days.ts';
import { WEATHER_ROLES, type WeatherRole } from '../formats/weather/weather-role.ts';
import { figure } from '../run/figures.ts';
import { loadFile } from './disk.ts';
import { openLineup } from './open-lineup.ts';
import { DONE, hasError, table, tell, tellIssues, tellJson, WRONG_INPUT } from './tell.ts';

export interface SeasonOptions {
  readonly weather: string;
  readonly planted: MonthDay;
  readonly freeze: MonthDay;
  readonly ratedFrom?: 'planting' | 'emergence';
  readonly region: 'indiana-ohio' | 'elsewhere';
  readonly year?: number;
  readonly unit?: 'F' | 'C' | 'C/10';
  readonly column?: readonly string[];
  readonly relation?: { readonly relativeMaturity: number; readonly gdd: number };
  readonly gddPerPoint?: number;
  readonly relationBy?: string;
  readonly crop?: string;
  readonly json?: boolean;
}

const UNITS = { F: TEMPERATURE_UNITS[0], C: TEMPERATURE_UNITS[1], 'C/10': TEMPERATURE_UNITS[2] } as const;

/** What becomes of a product in the season asked about, and year by year where the record has several. */
interface Judged {
  readonly product: Product;
  readonly fit: SeasonFit;
  readonly years: readonly { readonly year: number | null; readonly fit: SeasonFit }[];
}

/** `eachacre lineup season LINEUP`: which corn products ripen before the freeze, by degree days. */
export function judgeSeason(path: string, options: SeasonOptions): number {
  const { lineup, issues: ofLineup } = openLineup(path, options.crop);
  const [file] = loadFile(options.weather);
  const weather = readWeather(file, {
    columns: columnsSaid(options.column ?? []),
    ...(options.unit === undefined ? {} : { unit: UNITS[options.unit] }),
  });
  const seasons = weatherDegreeDays(weather, options.year ?? null);
  const corn = lineup?.products.filter(({ crop }) => sameCrop(crop, 'corn')) ?? [];
  const issues = [
    ...ofLineup,
    ...weather.issues,
    ...seasons.issues,
    ...(lineup ? notJudged(path, lineup.products.length - corn.length, corn.length) : []),
  ];
  const judge = judgeBy(options);
  const judged = corn.map(
    (product): Judged => ({
      product,
      fit: judge(product, seasons.degreeDays),
      years:
        seasons.years.length < 2
          ? []
          : seasons.years.map(({ year, degreeDays }) => ({ year, fit: judge(product, degreeDays) })),
    }),
  );
  issues.push(...notTold(path, judged));
  if (options.json)
    tellJson({
      lineup: lineup?.name ?? null,
      weather: {
        file: weather.file,
        by: weather.by,
        of: seasons.degreeDays.of,
        years: seasons.years.map(({ year }) => year),
        units: weather.units,
        ledger: weather.ledger,
      },
      planted: dayName(dayOfYear(options.planted)),
      freeze: dayName(dayOfYear(options.freeze)),
      products: judged.map(({ product, fit, years }) => ({
        id: product.id,
        name: product.name,
        maturity: product.maturity,
        gddToMaturity: product.gddToMaturity,
        ...fit,
        ...(fit.verdict === 'cannot be told' ? {} : { figures: days(fit.figures) }),
        years: years.map(({ year, fit: own }) => ({ year, verdict: own.verdict })),
        said: seasonSentences(fit, product.name),
      })),
      issues,
    });
  else {
    tell(weatherText(weather, seasons, options));
    if (judged.length > 0) tell(`\n${judgedText(judged)}`);
    tellIssues(issues);
  }
  return hasError(issues) ? WRONG_INPUT : DONE;
}

function judgeBy(options: SeasonOptions): (product: Product, degreeDays: Season['degreeDays']) => SeasonFit {
  const { planted, freeze, ratedFrom, region, relation, gddPerPoint, relationBy } = options;
  const stated: MaturityRelation | null =
    relation && gddPerPoint !== undefined ? { ...relation, gddPerPoint, by: relationBy ?? 'you' } : null;
  return (product, degreeDays) =>
    seasonFit(product, {
      planted,
      freeze,
      degreeDays,
      ratedFrom: ratedFrom ?? null,
      region: region === 'indiana-ohio' ? 'Indiana or Ohio' : 'elsewhere',
      relation: stated,
    });
}

/** `--column highest=TX`. */
function columnsSaid(words: readonly string[]): Partial<Record<WeatherRole, string>> {
  return Object.fromEntries(
    words.map((word) => {
      const cut = word.indexOf('=');
      const role = word.slice(0, Math.max(0, cut)).trim();
      if (WEATHER_ROLES.some((own) => own === role)) return [role, word.slice(cut + 1).trim()];
      throw new Refusal({
        code: 'weather-option',
        where: `--column ${word}`,
        found: cut < 0 ? 'no =' : `a role ${role}`,
        expected: `ROLE=NAME, the role one of ${WEATHER_ROLES.join(', ')}`,
        effect: 'The temperatures were not read',
        remedy: 'Correct what was stated',
      });
    }),
  );
}

function notJudged(where: string, others: number, corn: number): Issue[] {
  if (others === 0 && corn > 0) return [];
  return [
    {
      code: corn === 0 ? 'season-no-corn' : 'season-other-crops',
      severity: corn === 0 ? 'error' : 'note',
      where,
      found: corn === 0 ? 'no product of corn' : `${figure.count(others, 'product')} of other crops`,
      expected: 'corn: growing degree days of 86/50 °F are its own',
      effect: corn === 0 ? 'There is nothing to judge' : 'They are not judged',
      remedy: corn === 0 ? 'Give a lineup with corn' : 'Nothing to do',
    },
  ];
}

/** Whose need nobody states. */
function notTold(where: string, judged: readonly Judged[]): Issue[] {
  const names = judged
    .filter(({ fit, product }) => fit.verdict === 'cannot be told' && product.gddToMaturity === null)
    .map(({ product }) => product.name);
  if (names.length === 0) return [];
  return [
    {
      code: 'season-no-rating',
      severity: 'note',
      where,
      found: `${figure.count(names.length, 'product')} without growing degree days to maturity (${names.slice(0, 5).join(', ')}${names.length > 5 ? ', …' : ''})`,
      expected: 'the rating of each, or what a relative maturity needs',
      effect: 'Whether they ripen in time cannot be told',
      remedy: 'Give them in the lineup, or a relation (command line: --relation 110=2700 --gdd-per-point 24)',
    },
  ];
}

/** Days of the year by name beside their numbers. */
function days<T extends { planted: number; freeze: number; blackLayer: number | null }>(figures: T) {
  const { blackLayer } = figures;
  return { ...figures, blackLayerDay: blackLayer === null ? null : dayName(blackLayer) };
}

function weatherText(weather: WeatherRead, { years, degreeDays }: SeasonsOfWeather, options: SeasonOptions) {
  const { file, by, units, ledger } = weather;
  const aside = Object.entries(ledger.setAside).map(([reason, n]) => `${n} ${reason}`);
  const named = years.map(({ year }) => year).filter((year) => year !== null);
  const span =
    named.length === 0
      ? 'normals'
      : named.length === 1
        ? `the year ${named[0]}`
        : `${named.length} years, ${named[0]} to ${named[named.length - 1]}, averaged to a normal season`;
  const from = dayOfYear(options.planted);
  const daily = degreeDays.daily.slice(from - degreeDays.from, dayOfYear(options.freeze) - degreeDays.from);
  const known = daily.filter((day) => !Number.isNaN(day));
  return [
    `${file}: ${figure.count(ledger.used, by)} used of ${ledger.read}${aside.length > 0 ? `, set aside ${aside.join(', ')}` : ''}; ${span}`,
    ...units.map(({ role, column, unit, because }) => `  ${role}: ${column} in ${unit} (${because})`),
    `Planted ${dayName(from)}, freeze ${dayName(dayOfYear(options.freeze))}: ${figure.whole(known.reduce((sum, day) => sum + day, 0))} growing degree days${known.length < daily.length ? ` on the ${known.length} of ${daily.length} days that are known` : ''}.`,
  ].join('\n');
}

function judgedText(judged: readonly Judged[]): string {
  const severalYears = judged.some(({ years }) => years.length > 0);
  const rows = judged.map(({ product, fit, years }) => {
    const told = fit.verdict === 'cannot be told' ? null : fit.figures;
    const ripe = years.filter(({ fit: own }) => own.verdict === 'safe' || own.verdict === 'tight').length;
    const judgedYears = years.filter(({ fit: own }) => own.verdict !== 'cannot be told').length;
    return [
      product.name,
      product.maturity || '–',
      fit.verdict,
      told && told.blackLayer !== null ? dayName(told.blackLayer) : '–',
      told ? figure.whole(told.need.gdd) : '–',
      told ? figure.whole(told.margin) : '–',
      ...(severalYears ? [judgedYears > 0 ? `${ripe} of ${judgedYears}` : '–'] : []),
    ];
  });
  const head = ['product', 'maturity', 'verdict', 'black layer', 'needs', 'to spare'];
  const sentences = judged.map(({ product, fit }) =>
    seasonSentences(fit.verdict === 'cannot be told' ? fit : { ...fit, cautions: [] }, product.name).join(
      ' ',
    ),
  );
  const cautions = new Set(
    judged.flatMap(({ fit }) => (fit.verdict === 'cannot be told' ? [] : fit.cautions)),
  );
  return [
    table([severalYears ? [...head, 'ripe in years'] : head, ...rows], 4),
    '',
    ...sentences,
    ...(cautions.size > 0 ? ['', ...cautions] : []),
  ].join('\n');
}
