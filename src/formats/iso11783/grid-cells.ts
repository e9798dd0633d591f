import type { Column } from '../../engine/layers/source.ts';
import { refuseIso } from './iso-refusal.ts';
import { zoneColumns } from './zone-columns.ts';
import type { Zone } from './zones.ts';

/** What logs and some writers put where nothing is known. */
const NO_VALUE = -(2 ** 31);

/** Type 1: a byte a cell. */
export function codeColumns(
  bytes: Uint8Array,
  zones: readonly Zone[],
  width: number,
  where: string,
): Column[] {
  const index = new Int16Array(256).fill(-1);
  zones.forEach(({ code }, i) => {
    index[code] = i;
  });
  const zoneOf = new Int16Array(bytes.length);
  for (let cell = 0; cell < zoneOf.length; cell++) zoneOf[cell] = index[bytes[cell]];
  const unknown = zoneOf.indexOf(-1);
  if (unknown >= 0) {
    const count = zoneOf.reduce((sum, zone) => sum + (zone < 0 ? 1 : 0), 0);
    const known = zones.map(({ code }) => code).slice(0, 20);
    refuseIso(
      'iso-grid-code',
      `${where} › ${cellName(unknown, width)}`,
      `zone ${bytes[unknown]}, and ${count} cells in all of such zones`,
      `codes of the task: ${known.join(', ') || 'none'}`,
    );
  }
  return zoneColumns(zones, zoneOf);
}

/** Type 2: for each cell a whole number of 32 bits, low byte first, a value. */
export function valueColumns(bytes: Uint8Array, zone: Zone, width: number, where: string): Column[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const n = zone.values.length;
  return zone.values.map(({ entity, product }, k) => {
    const values = new Float64Array(bytes.length / 4 / n);
    for (let cell = 0; cell < values.length; cell++) {
      const raw = view.getInt32(4 * (cell * n + k), true);
      if (raw < 0 && raw !== NO_VALUE && !entity.negative) {
        refuseIso(
          'iso-value-range',
          `${where} › ${cellName(cell, width)}`,
          `${raw} for ${entity.label}`,
          'a value from 0 to 2147483647',
        );
      }
      values[cell] = raw === NO_VALUE ? Number.NaN : raw * entity.scale;
    }
    return { name: product ? `${product} ${entity.label}` : entity.label, kind: 'number', values };
  });
}

function cellName(cell: number, width: number): string {
  return `row ${Math.floor(cell / width) + 1}, column ${(cell % width) + 1} from the south-west`;
}
