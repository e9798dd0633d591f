import { type Issue, Refusal } from '../engine/issue.ts';
import { dayName, dayOfYear, type MonthDay } from '../engine/lineup/day-of-year.ts';
import type { MaturityRelation } from '../engine/lineup/maturity-needed.ts';
import type { Product } from '../engine/lineup/product.ts';
import { type Season, type SeasonFit, seasonFit } from '../engine/lineup/season-fit.ts';
import { seasonSentences } from '../engine/lineup/season-fit-words.ts';
import { sameCrop } from '../engine/math/crop-name.ts';
import { readWeather } from '../formats/weather/read-weather.ts';
import { TEMPERATURE_UNITS } from '../formats/weather/temperature-unit.ts';
import { weatherDegreeDays } from '../formats/weather/weather-degree-days.ts';
import { WEATHER_ROLES, type WeatherRole } from '../formats/weather/weather-role.ts';
import { figure } from '../run/figures.ts';
import { loadFile } from './disk.ts';
import { openLineup } from './open-lineup.ts';
import { type Judged, judgedText, weatherText } from './season-text.ts';
import { DONE, hasError, tell, tellIssues, tellJson, WRONG_INPUT } from './tell.ts';

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
    relation && gddPerPoint !== undefined
      ? { ...relation, gddPerPoint, by: relationBy ?? 'the command line' }
      : null;
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
