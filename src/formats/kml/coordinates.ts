import { decimalIn } from '../text/decimal.ts';

/** Positions of one geometry. */
export interface Positions {
  /** Longitude and latitude by turns, degrees. */
  readonly flat: Float64Array;
  /** True when a position has an altitude other than zero. */
  readonly high: boolean;
  /** What is wrong with the first position that is no place on Earth; '' when all are sound. */
  readonly bad: string;
}

/**
 * `lon,lat[,alt]` tuples with white space between them (OGC 07-147r2, 16.10). Blanks beside a comma are not allowed
 * there and common in files: a comma joins what it stands between. `swapped`: the latitude stands first.
 */
export function positionsIn(text: string, swapped = false): Positions {
  const flat: number[] = [];
  let high = false;
  for (const tuple of tuplesIn(text)) {
    const [first, second] = [decimalIn(tuple[0]), decimalIn(tuple[1] ?? '')];
    const [lon, lat] = swapped ? [second, first] : [first, second];
    if (!(Math.abs(lon) <= 180) || !(Math.abs(lat) <= 90) || tuple.length > 3) {
      return { flat: new Float64Array(0), high, bad: `'${tuple.slice(0, 4).join(',').slice(0, 60)}'` };
    }
    flat.push(lon, lat);
    if (decimalIn(tuple[2] ?? '0') !== 0) high = true;
  }
  return { flat: Float64Array.from(flat), high, bad: flat.length === 0 ? 'no coordinates' : '' };
}

function tuplesIn(text: string): string[][] {
  const tuples: string[][] = [];
  let joined = false;
  for (let at = 0; at < text.length; ) {
    const letter = text[at];
    if (letter === ',') {
      // A comma with nothing before it leaves an empty figure behind.
      if (tuples.length === 0) tuples.push(['']);
      else if (joined) tuples[tuples.length - 1].push('');
      joined = true;
      at++;
    } else if (letter.charCodeAt(0) <= 32 || letter === '\u00a0') at++;
    else {
      let end = at;
      while (end < text.length && text.charCodeAt(end) > 32 && text[end] !== ',' && text[end] !== '\u00a0')
        end++;
      const figure = text.slice(at, end);
      if (joined) tuples[tuples.length - 1].push(figure);
      else tuples.push([figure]);
      joined = false;
      at = end;
    }
  }
  return tuples;
}
