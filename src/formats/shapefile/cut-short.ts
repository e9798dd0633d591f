import type { Issue } from '../../engine/issue.ts';
import type { FileBytes } from '../file-bytes.ts';
import type { Shapes } from './shp.ts';

/**
 * Of a .shp that ends before its stated length: how many records are lost, by the index or else by the table, and the warning. Without either, one at
 * least. Null for a whole file.
 */
export function cutShort(
  shp: FileBytes,
  shapes: Shapes,
  shx: FileBytes | undefined,
  dbf: FileBytes | undefined,
): { lost: number; issue: Issue } | null {
  if (!shapes.cut) return null;
  const stated = indexEntries(shx) ?? tableRows(dbf);
  const lost = stated === null ? 1 : Math.max(0, stated - shapes.records);
  const count =
    stated === null ? `${shapes.records} whole records` : `${shapes.records} of ${stated} records`;
  const issue: Issue = {
    code: 'shp-truncated',
    severity: 'warning',
    where: shp.name,
    found: `${count}; ${shp.bytes.length} bytes`,
    expected: `${shapes.end} bytes by the header`,
    effect:
      lost === 0
        ? 'All records are there and are used; the header seems to be wrong'
        : `The records before the cut are used; ${stated === null ? 'at least 1' : lost} after it ${lost === 1 ? 'is' : 'are'} lost`,
    remedy: 'Copy or download the file again',
  };
  return { lost, issue };
}

function indexEntries(shx: FileBytes | undefined): number | null {
  if (!shx || shx.bytes.length < 100) return null;
  const view = new DataView(shx.bytes.buffer, shx.bytes.byteOffset, shx.bytes.byteLength);
  // An index that is itself cut says nothing.
  if (view.getInt32(0) !== 9994 || view.getInt32(24) * 2 !== view.byteLength) return null;
  return Math.floor((view.byteLength - 100) / 8);
}

function tableRows(dbf: FileBytes | undefined): number | null {
  if (!dbf || dbf.bytes.length < 33) return null;
  return new DataView(dbf.bytes.buffer, dbf.bytes.byteOffset).getUint32(4, true);
}
