import { headerText } from '../trials/header-text.ts';

/** Tables of some weather services write tenths of a degree as whole numbers. */
export const TEMPERATURE_UNITS = ['°F', '°C', '0.1 °C'] as const;
export type TemperatureUnit = (typeof TEMPERATURE_UNITS)[number];

const TENTHS = /_(0_)?1_(deg_)?c_|tenths?_|zehntel|_dixiemes?_/;
const FAHRENHEIT = /_(deg_)?f_|fahrenheit|_degf_/;
const CELSIUS = /_(deg_)?c_|celsius|centigrad|_degc_/;

/** The unit a name, or a cell of a row of units, tells; null where it tells none. */
export function temperatureUnitTold(text: string): TemperatureUnit | null {
  const words = headerText(text);
  if (TENTHS.test(words)) return '0.1 °C';
  if (FAHRENHEIT.test(words)) return '°F';
  return CELSIUS.test(words) ? '°C' : null;
}

export function toFahrenheit(value: number, unit: TemperatureUnit): number {
  if (unit === '°F') return value;
  return (unit === '°C' ? value : value / 10) * 1.8 + 32;
}

/**
 * Mean of the daily highest temperatures of the warmest summer month where corn is grown, hardly ever outside: the ranges of the three units do not meet. Common practice, no source.
 */
const WARMEST_MONTH: Readonly<Record<TemperatureUnit, readonly [number, number]>> = {
  '°F': [60, 115],
  '°C': [15, 46],
  '0.1 °C': [150, 460],
};

/** The unit such highest temperatures of the warmest month would be in; null where in none. */
export function plausibleUnit(warmest: number): TemperatureUnit | null {
  return (
    TEMPERATURE_UNITS.find((unit) => {
      const [low, high] = WARMEST_MONTH[unit];
      return warmest >= low && warmest <= high;
    }) ?? null
  );
}
