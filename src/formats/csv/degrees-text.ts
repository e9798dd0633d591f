/** Degrees, then perhaps minutes, then perhaps seconds; a hemisphere before or after. `S` is south, never seconds. */
const DEGREES =
  /^([NSEW])?\s*([+-])?\s*(\d{1,3}(?:\.\d+)?)\s*(?:D|DEG|°)?[\s:]*(?:(\d{1,2}(?:\.\d+)?)\s*(?:'|M|MIN)?[\s:]*(?:(\d{1,2}(?:\.\d+)?)\s*(?:"|SEC)?)?)?\s*([NSEW])?$/;

/**
 * Degrees in a position written with a hemisphere, minutes or seconds (`N42 03.5`, `93°30'15" W`, `-93 30 15.5`, `42.05N`), a decimal comma for a point
 * too. NaN for anything else, and for a hemisphere of the other axis.
 */
export function degreesFromText(text: string, axis: 'lon' | 'lat'): number {
  const match = DEGREES.exec(plain(text));
  if (!match) return Number.NaN;
  const [, before, sign, degrees, minutes, seconds, after] = match;
  const hemisphere = before ?? after;
  const twice = before !== undefined && after !== undefined;
  const split =
    (minutes !== undefined && degrees.includes('.')) || (seconds !== undefined && minutes.includes('.'));
  if (twice || split || (hemisphere && sign)) return Number.NaN;
  if (hemisphere && !(axis === 'lon' ? 'EW' : 'NS').includes(hemisphere)) return Number.NaN;
  const [m, s] = [Number(minutes ?? 0), Number(seconds ?? 0)];
  if (m >= 60 || s >= 60) return Number.NaN;
  const value = Number(degrees) + m / 60 + s / 3600;
  if (value > (axis === 'lon' ? 180 : 90)) return Number.NaN;
  return sign === '-' || hemisphere === 'S' || hemisphere === 'W' ? -value : value;
}

function plain(text: string): string {
  return text
    .trim()
    .toUpperCase()
    .replace(/[º˚]/g, '°')
    .replace(/''|[″”“]/g, '"')
    .replace(/[′’‘´]/g, "'")
    .replace(/[−–]/g, '-')
    .replace(/(\d),(\d)/g, '$1.$2');
}
