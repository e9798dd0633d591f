import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/engine/issue.ts';
import { dayOfYear } from '../../src/engine/lineup/day-of-year.ts';
import { readWeather, type WeatherOptions } from '../../src/formats/weather/read-weather.ts';
import { weatherDegreeDays } from '../../src/formats/weather/weather-degree-days.ts';
import { weatherRole } from '../../src/formats/weather/weather-role.ts';
import { textFile } from './small-files.ts';

const read = (text: string, options: WeatherOptions = {}) => readWeather(textFile(text, 'w.csv'), options);
const codes = (issues: readonly { code: string }[]) => issues.map(({ code }) => code);
const refusal = (make: () => unknown): string => {
  try {
    make();
  } catch (thrown) {
    if (thrown instanceof Refusal) return thrown.issue.code;
    throw thrown;
  }
  return 'none';
};
const on = (month: number, day: number) => dayOfYear({ month, day }) - 1;
const dated = (year: number, k: number) => new Date(Date.UTC(year, 0, k + 1)).toISOString().slice(0, 10);
/** A year of days, warm in summer; °F. */
const days = (year: number, of: (k: number) => readonly [number, number]) =>
  Array.from({ length: 365 }, (_, k) => `${dated(year, k)},${of(k).join(',')}`).join('\n');
const summery = (k: number): readonly [number, number] => (k > 120 && k < 270 ? [82, 60] : [40, 25]);

describe('the columns of a record', () => {
  it.each([
    ['TMAX', 'highest'],
    ['tmin', 'lowest'],
    ['Maximum Temperature (°F)', 'highest'],
    ['Avg Low', 'lowest'],
    ['temperature_2m_max (°C)', 'highest'],
    ['MLY-TMIN-NORMAL', 'lowest'],
    ['Höchsttemperatur', 'highest'],
    ['Tiefsttemperatur [°C]', 'lowest'],
    ['Température maximale', 'highest'],
    ['Temperatura mínima', 'lowest'],
    ['Laagste temperatuur', 'lowest'],
    ['Højeste temperatur', 'highest'],
    ['TXK', 'highest'],
    ['TN', 'lowest'],
    ['Datum', 'date'],
    ['Fecha', 'date'],
    ['Monat', 'month'],
    ['DOY', 'day of year'],
    ['Jahr', 'year'],
    ['TMAX_ATTRIBUTES', null],
    ['Max wind speed', null],
    ['Min soil temperature', null],
    ['Record high', null],
    ['GDD', null],
    ['Niederschlag', null],
  ])('%s is %s', (name, role) => {
    expect(weatherRole(name)).toBe(role);
  });
});

describe('a record by the day', () => {
  it('gives the degree days of the printed examples', () => {
    // Waushara Argus, Calculating growing degree days, 2018: three days, 25.5, 11 and 6.5, 43 in all. Ohio State University Extension, Corn growing degree days, 2023: 87 and 63 are 24.5.
    const { degreeDays } = weatherDegreeDays(
      read(
        'date,high °F,low °F\n2018-05-10,90,65\n2018-05-11,72,46\n2018-05-12,63,42\n2018-05-13,87,63\n2018-05-14,70,50\n',
      ),
    );
    expect(Array.from(degreeDays.daily.slice(on(5, 10), on(5, 15)))).toEqual([25.5, 11, 6.5, 24.5, 10]);
    expect(degreeDays.of).toBe('a record');
    expect(degreeDays.daily[on(5, 15)]).toBeNaN();
  });

  it('in °C is the same: 30 and 10 °C are 86 and 50 °F', () => {
    const { years } = read('Datum;Tmax (°C);Tmin (°C)\n10.05.2024;30,0;10,0\n11.05.2024;22,5;-5,5\n');
    expect(years[0].highest_f[on(5, 10)]).toBeCloseTo(86, 12);
    expect(years[0].lowest_f[on(5, 10)]).toBeCloseTo(50, 12);
    expect(years[0].highest_f[on(5, 11)]).toBeCloseTo(72.5, 12);
    expect(years[0].lowest_f[on(5, 11)]).toBeCloseTo(22.1, 12);
  });

  it.each([
    ['2024-05-10', '-'],
    ['20240510', '-'],
    ['5/10/2024', '5/23/2024'],
    ['10/5/2024', '23/5/2024'],
    ['10.05.2024', '-'],
    ['10 May 2024', '-'],
    ['May 10, 2024', '-'],
    ['10-mai-24', '-'],
    ['2024-05-10T00:00', '-'],
  ])('reads %s as 10 May', (date, other) => {
    const more = other === '-' ? '' : `"${other}",70,50\n`;
    const { years } = read(`date,high F,low F\n"${date}",81,55\n${more}`);
    expect([years[0].year, years[0].highest_f[on(5, 10)]]).toEqual([2024, 81]);
  });

  it('reads years and months, or days of the year, in columns of their own', () => {
    const byMonth = read('year,month,day,tmax_f,tmin_f\n2024,5,10,81,55\n2024,5,11,82,56\n');
    expect(byMonth.years[0].highest_f[on(5, 11)]).toBe(82);
    // Day 131 is 10 May in a leap year and 11 May in another.
    const byNumber = read('YEAR,DOY,TMAX F,TMIN F\n2024,131,81,55\n2023,131,82,56\n');
    expect(
      byNumber.years.map(({ year, highest_f }) => [year, highest_f.findIndex((own) => own > 0)]),
    ).toEqual([
      [2023, on(5, 11)],
      [2024, on(5, 10)],
    ]);
  });

  it('says which comes first where days and months cannot be told apart', () => {
    const { issues, years } = read('date,high F,low F\n5/10/2024,81,55\n5/11/2024,80,54\n');
    expect(codes(issues)).toContain('weather-date-order');
    expect(years[0].highest_f[on(5, 11)]).toBe(80);
  });

  it('takes the unit the summer is plausible in, and says so', () => {
    const inCelsius = (tenths: number) =>
      `DATE,TMAX,TMIN\n${days(2023, (k) => summery(k).map((f) => Math.round(((f - 32) / 1.8) * 10 * tenths) / 10) as unknown as [number, number])}\n`;
    for (const [text, unit] of [
      [`DATE,TMAX,TMIN\n${days(2023, summery)}\n`, '°F'],
      [inCelsius(1), '°C'],
      [inCelsius(10), '0.1 °C'],
    ] as const) {
      const { units, issues, years } = read(text);
      expect([units[0].unit, units[1].unit]).toEqual([unit, unit]);
      expect(codes(issues)).toEqual(['weather-unit-assumed']);
      // To a tenth of a degree Celsius.
      expect(Math.abs(years[0].highest_f[on(7, 1)] - 82)).toBeLessThan(0.1);
    }
    // A unit told goes before, unless no summer is so.
    expect(codes(read(`DATE,TMAX (°F),TMIN (°F)\n${days(2023, summery)}\n`).issues)).toEqual([]);
    const wrong = read(`DATE,TMAX (°C),TMIN (°C)\n${days(2023, summery)}\n`);
    expect([wrong.units[0].unit, codes(wrong.issues)]).toEqual(['°F', ['weather-unit-assumed']]);
    expect(codes(read(`DATE,TMAX,TMIN\n${days(2023, summery)}\n`, { unit: '°F' }).issues)).toEqual([]);
  });

  it('does not guess a unit from a winter', () => {
    expect(refusal(() => read('date,tmax,tmin\n2024-01-01,31,14\n2024-01-02,28,9\n'))).toBe(
      'weather-unit-not-told',
    );
  });

  it('sets aside what is no day, tells why, and closes its ledger', () => {
    const { ledger, issues, years } = read(
      [
        'date,high F,low F',
        '2024-05-10,81,55',
        '2024-05-10,99,55',
        '2024-02-30,81,55',
        '2024-02-29,45,20',
        '2024-05-12,,55',
        '2024-05-13,M,55',
        '2024-05-14,-9999,-9999',
        '2024-05-15,50,70',
        '2024-05-16,82',
        '2024-05-17,80,52',
        '',
      ].join('\n'),
    );
    expect(ledger).toEqual({
      read: 10,
      used: 2,
      repaired: 0,
      setAside: {
        'ragged-row': 1,
        'day-twice': 1,
        'no-date': 1,
        'leap-day': 1,
        'no-temperature': 2,
        'not-possible': 2,
      },
    });
    expect(years[0].highest_f[on(5, 10)]).toBe(81);
    expect(issues.find(({ code }) => code === 'weather-not-possible')?.found).toMatch(/lines 8, 9$/);
    const missing = issues.find(({ code }) => code === 'weather-days-missing');
    expect(missing?.found).toBe('6 days without temperatures: 11 May, 12 May, 13 May, 14 May, 15 May, …');
  });

  it('of several years is averaged in degree days, day by day, where half of the years know the day', () => {
    const seasons = weatherDegreeDays(
      read(
        'date,high F,low F\n2022-05-10,86,50\n2023-05-10,40,30\n2022-05-11,86,50\n2023-05-12,70,50\n2024-05-12,80,50\n',
      ),
    );
    expect(seasons.degreeDays.of).toBe('normals');
    // 18 and 0 are 9; the mean of their temperatures, 63 and 40, would be 6.5.
    expect(seasons.degreeDays.daily[on(5, 10)]).toBe(9);
    expect(seasons.degreeDays.daily[on(5, 11)]).toBeNaN();
    expect(seasons.degreeDays.daily[on(5, 12)]).toBe(12.5);
    expect(codes(seasons.issues)).toEqual(['weather-years-averaged']);
    expect(seasons.years.map(({ year }) => year)).toEqual([2022, 2023, 2024]);
  });

  it('of which a year is asked is that year alone', () => {
    const two = read('date,high F,low F\n2022-05-10,86,50\n2023-05-10,70,50\n');
    const one = weatherDegreeDays(two, 2023);
    expect([one.degreeDays.of, one.degreeDays.daily[on(5, 10)]]).toEqual(['a record', 10]);
    expect(refusal(() => weatherDegreeDays(two, 2021))).toBe('weather-no-year');
  });
});

describe('normals by the month', () => {
  const HIGHEST = [31, 36, 49, 62, 73, 82, 85, 83, 76, 63, 48, 35];
  const LOWEST = [14, 19, 29, 40, 52, 62, 66, 64, 54, 42, 30, 19];
  const NAMES = [
    'Januar',
    'Feb',
    'März',
    '4',
    '05',
    'June',
    'juillet',
    'août',
    'Sept.',
    'Okt',
    'nov',
    'diciembre',
  ];
  const table = NAMES.map((name, k) => `${name},${HIGHEST[k]},${LOWEST[k]}`);

  it('go along straight lines between the middles of months, as approx of R has it', () => {
    const weather = read(`Month,Mean max (°F),Mean min (°F)\n${table.join('\n')}\n`);
    expect([weather.by, weather.ledger.used, weather.issues]).toEqual(['month', 12, []]);
    const { degreeDays } = weatherDegreeDays(weather);
    expect(degreeDays.of).toBe('normals');
    // tests/reference/trials.R
    expect(degreeDays.daily.reduce((sum, day) => sum + day, 0)).toBeCloseTo(3344.49180328, 8);
  });

  it('wants all twelve', () => {
    const weather = read(`Month,max F,min F\n${table.slice(1).join('\n')}\n`);
    expect(refusal(() => weatherDegreeDays(weather))).toBe('weather-months-missing');
  });
});

describe('what is no record of a season here', () => {
  it('is refused with its reason', () => {
    expect(refusal(() => read('a,b\n1,2\n3,4\n'))).toBe('weather-no-temperatures');
    expect(refusal(() => read('tmax,tmin\n81,55\n82,56\n'))).toBe('weather-no-dates');
    expect(refusal(() => read('station,date,tmax f,tmin f\nA,2024-05-10,81,55\nB,2024-05-10,80,54\n'))).toBe(
      'weather-several-stations',
    );
    expect(refusal(() => read('date,tmax f,tmin f\nx,81,55\ny,80,54\n'))).toBe('weather-no-days');
    expect(refusal(() => read('%PDF-1.7\n'))).toBe('file-foreign');
    expect(refusal(() => read(''))).toBe('file-empty');
    const southern = (k: number): readonly [number, number] => (k > 120 && k < 270 ? [58, 40] : [85, 62]);
    expect(refusal(() => read(`date,tmax °F,tmin °F\n${days(2023, southern)}\n`))).toBe('weather-southern');
    const option = () => read('date,tmax f,tmin f\n2024-05-10,81,55\n', { columns: { highest: 'TX' } });
    expect(refusal(option)).toBe('weather-option');
  });

  it('and of two highest temperatures the one taken is told', () => {
    const two = 'date,max F,max of the day F,min F\n2024-05-10,81,82,55\n2024-05-11,81,82,55\n';
    const { issues, units } = read(two);
    expect([units[0].column, codes(issues)]).toEqual(['max F', ['weather-column-assumed']]);
    const said = read(two, { columns: { highest: 'max of the day F' } });
    expect([said.years[0].highest_f[on(5, 10)], codes(said.issues)]).toEqual([82, []]);
  });
});
