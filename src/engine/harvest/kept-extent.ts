import type { TravelFrame } from './travel-frame.ts';

/** How far kept records reach along the passes and to the left of them, m; infinite, the wrong way round, where none is kept. */
export interface KeptExtent {
  readonly count: number;
  readonly back_m: number;
  readonly ahead_m: number;
  readonly right_m: number;
  readonly left_m: number;
}

/** Of the kept records, which must have positions. */
export function keptExtent(
  { along_m, left_m }: Pick<TravelFrame, 'along_m' | 'left_m'>,
  kept: Uint8Array,
): KeptExtent {
  let count = 0;
  let back = Infinity;
  let ahead = -Infinity;
  let right = Infinity;
  let left = -Infinity;
  for (let i = 0; i < kept.length; i++) {
    if (!kept[i]) continue;
    count++;
    if (along_m[i] < back) back = along_m[i];
    if (along_m[i] > ahead) ahead = along_m[i];
    if (left_m[i] < right) right = left_m[i];
    if (left_m[i] > left) left = left_m[i];
  }
  return { count, back_m: back, ahead_m: ahead, right_m: right, left_m: left };
}
