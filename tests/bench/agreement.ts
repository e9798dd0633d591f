import { readFileSync } from 'node:fs';
import { SIDE_CELLS } from './field.ts';
import { UNKNOWN } from './gdal.ts';

export interface Agreement {
  readonly cells: number;
  /** Cells known to both, and to one alone. */
  readonly both: number;
  readonly oneAlone: number;
  /** Absolute differences over the cells known to both, bu/ac. */
  readonly median: number;
  readonly largest: number;
}

/** Two surfaces of doubles, cell by cell. */
export function agreement(ours: string, gdal: string): Agreement {
  const [a, b] = [fromSouth(ours), fromNorth(gdal)];
  if (a.length !== b.length) throw new Error(`${a.length} cells against ${b.length}`);
  const differences: number[] = [];
  let oneAlone = 0;
  for (let cell = 0; cell < a.length; cell++) {
    const known = [!Number.isNaN(a[cell]), !Number.isNaN(b[cell])];
    if (known[0] && known[1]) differences.push(Math.abs(a[cell] - b[cell]));
    else if (known[0] || known[1]) oneAlone++;
  }
  differences.sort((p, q) => p - q);
  return {
    cells: a.length,
    both: differences.length,
    oneAlone,
    median: differences[differences.length >> 1] ?? Number.NaN,
    largest: differences.at(-1) ?? Number.NaN,
  };
}

/** A surface of GDAL's, which begins in the north and has its own mark for not known, as one of ours. */
export function fromNorth(path: string): Float64Array {
  const north = fromSouth(path);
  return north.map((_, cell) => {
    const own = north[north.length - SIDE_CELLS * (1 + Math.floor(cell / SIDE_CELLS)) + (cell % SIDE_CELLS)];
    return own === UNKNOWN ? Number.NaN : own;
  });
}

/** A surface of ours: from the south, NaN for not known. */
export function fromSouth(path: string): Float64Array {
  const bytes = new Uint8Array(readFileSync(path));
  return new Float64Array(bytes.buffer, 0, bytes.length / 8);
}
