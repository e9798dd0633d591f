import type { Issue } from '../../engine/issue.ts';
import type { FileBytes } from '../file-bytes.ts';
import type { Shapes } from './shp.ts';

/** Compares the index with the records as walked. It is never relied on; a stale one is only reported. */
export function shxIssues({ name, bytes }: FileBytes, shapes: Shapes): Issue[] {
  const found = difference(new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength), shapes);
  if (found === null) return [];
  return [
    {
      code: 'shx-stale',
      severity: 'warning',
      where: name,
      found,
      expected: `${shapes.records} entries agreeing with the .shp`,
      effect: 'The index is not used; the records are read in their order in the .shp',
      remedy: 'Export the layer again if records seem wrong',
    },
  ];
}

function difference(view: DataView, shapes: Shapes): string | null {
  if (view.byteLength < 100 || view.getInt32(0) !== 9994) return 'no index header';
  const entries = (view.byteLength - 100) / 8;
  if (entries !== shapes.records) return `${view.byteLength} bytes, ${Math.floor(entries)} entries`;
  for (let record = 0; record < entries; record++) {
    const offset = view.getInt32(100 + 8 * record) * 2;
    if (offset !== shapes.offsets[record]) {
      return `record ${record + 1} at byte ${offset} where the .shp has it at ${shapes.offsets[record]}`;
    }
  }
  return null;
}
