import type { HarvestLog, Passes } from './harvest-log.ts';
import { binKept } from './kept-bins.ts';

/** Neighbours are looked for in squares of this side, three by three. Our own choice, no source. */
const SQUARE_M = 12;
/** Of the witnesses, this share must speak for the record; fewer witnesses than FEWEST say nothing. Our own choice, no source. */
const SHARE = 0.5;
const FEWEST = 3;

/**
 * Clears the marks of records that other passes bear out. An edge of poor ground is seen by every pass over it, an error of the machine by its own pass only. The
 * witnesses of a record are the kept records of other passes in the 3 × 3 squares about its own, marked ones too; its mark is cleared where half of them or more lie nearer to
 * its value than to `rival`, the value it was held to be far from. Our own method, no source.
 */
export function bearOut(
  log: HarvestLog,
  passes: Passes,
  kept: Uint8Array,
  marks: Uint8Array,
  rival: number,
): Uint8Array {
  if (!marks.includes(1)) return marks;
  const { value } = log;
  const { pass } = passes;
  const { cols, rows, start, records } = binKept(log, passes, kept, SQUARE_M);
  const left = marks.slice();
  for (let square = cols + 1; square < cols * (rows - 1) - 1; square++) {
    for (let k = start[square]; k < start[square + 1]; k++) {
      const i = records[k];
      if (!marks[i]) continue;
      let witnesses = 0;
      let agree = 0;
      for (let row = square - cols; row <= square + cols; row += cols) {
        for (let near = start[row - 1]; near < start[row + 2]; near++) {
          const witness = records[near];
          if (pass[witness] === pass[i]) continue;
          witnesses++;
          if (Math.abs(value[witness] - value[i]) < Math.abs(value[witness] - rival)) agree++;
        }
      }
      if (witnesses >= FEWEST && agree >= SHARE * witnesses) left[i] = 0;
    }
  }
  return left;
}
