import type { Issue } from '../../engine/issue.ts';
import type { DbfHeader } from './dbf-header.ts';
import { refuseDbf } from './dbf-header.ts';

/** What the table has to fit. */
export interface Wanted {
  /** Shapes read. */
  readonly shapes: number;
  /** The .shp is cut: the table may have rows for shapes that are lost. */
  readonly cut: boolean;
  /** The caller knows that row n is shape n as far as both go. */
  readonly inOrder: boolean;
}

/**
 * How many rows to read: one for each shape. A row count in the header that is too low is mended where the size of the file and the .shp agree on another;
 * any other difference is refused unless the caller says that rows and shapes go in order.
 */
export function tableRows(
  header: DbfHeader,
  bytes: number,
  wanted: Wanted,
  where: string,
): { rows: number; issues: Issue[] } {
  const { shapes, cut, inOrder } = wanted;
  const room = Math.floor((bytes - header.start) / header.rowLength);
  const whole = Math.min(header.rows, room);
  if (whole === shapes && header.rows === shapes) return { rows: shapes, issues: [] };
  if (cut && whole >= shapes) return { rows: shapes, issues: [] };
  const spare = bytes - header.start - room * header.rowLength;
  if (header.rows < room && room === shapes && spare <= 1) {
    return {
      rows: shapes,
      issues: [
        countIssue(
          where,
          `${header.rows} rows in the header, room for ${room}`,
          shapes,
          'All rows in the file are read',
        ),
      ],
    };
  }
  if (!inOrder) {
    if (header.rows > room) {
      const needed = header.start + header.rows * header.rowLength;
      const found = `${bytes} bytes, room for ${room} whole rows`;
      refuseDbf(
        'dbf-truncated',
        where,
        found,
        `${needed} bytes for the ${header.rows} rows its header states`,
      );
    }
    refuseDbf('dbf-count', where, `${header.rows} rows`, `${shapes}, one for each shape of the .shp`);
  }
  const rows = Math.min(whole, shapes);
  const effect =
    whole < shapes
      ? `The last ${shapes - whole} shapes have no attributes`
      : `The last ${whole - shapes} rows are not read`;
  return { rows, issues: [countIssue(where, `${whole} rows`, shapes, effect)] };
}

function countIssue(where: string, found: string, shapes: number, effect: string): Issue {
  return {
    code: 'dbf-count',
    severity: 'warning',
    where,
    found,
    expected: `${shapes}, one for each shape of the .shp`,
    effect,
    remedy: 'Export the layer again if attributes seem to be those of other shapes',
  };
}
