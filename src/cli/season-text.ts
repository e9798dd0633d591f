import { dayName, dayOfYear, type MonthDay } from '../engine/lineup/day-of-year.ts';
import type { Product } from '../engine/lineup/product.ts';
import type { SeasonFit } from '../engine/lineup/season-fit.ts';
import { seasonSentences } from '../engine/lineup/season-fit-words.ts';
import type { WeatherRead } from '../formats/weather/read-weather.ts';
import type { SeasonsOfWeather } from '../formats/weather/weather-degree-days.ts';
import { figure } from '../run/figures.ts';
import { table } from './tell.ts';

/** What becomes of a product in the season asked about, and year by year where the record has several. */
export interface Judged {
  readonly product: Product;
  readonly fit: SeasonFit;
  readonly years: readonly { readonly year: number | null; readonly fit: SeasonFit }[];
}

/** What was read of the record, and the degree days of the season. */
export function weatherText(
  weather: WeatherRead,
  { years, degreeDays }: SeasonsOfWeather,
  options: { readonly planted: MonthDay; readonly freeze: MonthDay },
) {
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

/** Every product's verdict in a row, then in words; what holds for all of them once. */
export function judgedText(judged: readonly Judged[]): string {
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
