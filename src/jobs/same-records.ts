import type { Column, Source } from '../engine/layers/source.ts';

/** Whether two files hold the same records: the same places and the same figures, whatever the files and their columns are called. */
export function sameRecords(a: Source, b: Source): boolean {
  return (
    a.shape === b.shape &&
    a.shape !== 'raster' &&
    a.records > 0 &&
    a.records === b.records &&
    a.columns.length === b.columns.length &&
    sameNumbers(a.x, b.x) &&
    sameNumbers(a.y, b.y) &&
    a.rings.every((rings, k) => sameRings(rings, b.rings[k])) &&
    a.columns.every((column, k) => sameColumn(column, b.columns[k]))
  );
}

function sameColumn(a: Column, b: Column): boolean {
  if (a.kind === 'number') return b.kind === 'number' && sameNumbers(a.values, b.values);
  return (
    b.kind === 'text' &&
    a.codes.length === b.codes.length &&
    a.codes.every((code, k) => a.levels[code] === b.levels[b.codes[k]])
  );
}

function sameRings(a: Source['rings'][number], b: Source['rings'][number]): boolean {
  if (!a || !b) return !a === !b;
  return a.length === b.length && a.every((ring, k) => sameNumbers(ring, b[k]));
}

/** Not known is the same as not known. */
function sameNumbers(a: Float64Array, b: Float64Array): boolean {
  return a.length === b.length && a.every((value, k) => Object.is(value, b[k]) || value === b[k]);
}
