import { type Issue, Refusal } from '../../engine/issue.ts';
import {
  plausibleUnit,
  TEMPERATURE_UNITS,
  type TemperatureUnit,
  temperatureUnitTold,
} from './temperature-unit.ts';
import type { WeatherSheet } from './weather-sheet.ts';

/** What a column of temperatures was taken for. */
export interface UnitReading {
  readonly role: 'highest' | 'lowest';
  readonly column: string;
  readonly unit: TemperatureUnit;
  readonly because: string;
}

const ROLES = ['highest', 'lowest'] as const;

/**
 * The unit of both columns: as stated, else as header or units row tell, else the one the highest temperatures of summer are plausible in; a unit told in which they are not gives way to one in which they are. What
 * was not told is a warning. `month` by row; 0 where not known. Throws a Refusal where nothing tells.
 */
export function settleUnits(
  sheet: WeatherSheet,
  highest: Float64Array,
  month: readonly number[],
  stated: TemperatureUnit | undefined,
): { units: readonly [UnitReading, UnitReading]; issues: readonly Issue[] } {
  const told = ROLES.map((role) => {
    const column = sheet.role.get(role) as number;
    return temperatureUnitTold(sheet.units[column]) ?? temperatureUnitTold(sheet.columns[column]);
  });
  const reading = (unit: (k: number) => TemperatureUnit, because: string) =>
    ROLES.map(
      (role, k): UnitReading => ({
        role,
        column: sheet.columns[sheet.role.get(role) as number],
        unit: unit(k),
        because,
      }),
    ) as unknown as readonly [UnitReading, UnitReading];
  if (stated) return { units: reading(() => stated, 'as stated'), issues: [] };
  const said = told[0] ?? told[1];
  const likely = plausibleUnit(warmestMonth(highest, month));
  if (said !== null && (likely === null || likely === said))
    return { units: reading((k) => told[k] ?? said, `the table says ${said}`), issues: [] };
  if (likely !== null) {
    const found =
      said === null
        ? `no unit told; the highest temperatures of summer are plausible in ${likely} alone`
        : `${said} told, in which no summer where corn grows is as these figures; they are plausible in ${likely}`;
    return {
      units: reading(() => likely, `the figures are plausible in ${likely} alone`),
      issues: [assumed(sheet.file, found, likely)],
    };
  }
  throw new Refusal({
    code: 'weather-unit-not-told',
    where: sheet.file,
    found: 'no unit in the header, and figures that do not tell it',
    expected: `a unit in the header, ${TEMPERATURE_UNITS.join(', ')}, or the highest temperatures of a summer`,
    effect: 'The temperatures were not read',
    remedy: 'State the unit (command line: --unit)',
  });
}

/** Mean of the highest temperatures of the warmest of June, July and August; NaN without one of them. */
function warmestMonth(highest: Float64Array, month: readonly number[]): number {
  const means = [6, 7, 8].flatMap((own) => {
    const known = highest.filter(
      (value, i) => month[i] === own && Number.isFinite(value) && value > -90 && value < 900,
    );
    return known.length > 0 ? [known.reduce((sum, value) => sum + value, 0) / known.length] : [];
  });
  return means.length > 0 ? Math.max(...means) : NaN;
}

function assumed(where: string, found: string, unit: TemperatureUnit): Issue {
  return {
    code: 'weather-unit-assumed',
    severity: 'warning',
    where,
    found,
    expected: 'the unit in the header, as Tmax (°C)',
    effect: `${unit} is taken until somebody says otherwise`,
    remedy: 'State the unit (command line: --unit), or write it in the header',
  };
}
