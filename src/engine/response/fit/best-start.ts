import type { FamilyId } from '../family.ts';
import { BEND, STAND } from './figures.ts';
import { findShape, NEAR } from './find-shape.ts';
import type { FitWork } from './fit-work.ts';
import { settle } from './settle.ts';
import { shapeStarts } from './shape-starts.ts';

/** Best starts followed to the end: where a curve has a joint, a beginning or two figures of shape there is more than one bottom. */
const FOLLOWED = 2;
/** Smooth all over and of one figure of shape: all starts lead to one bottom. */
const OF_ONE_BOTTOM: readonly FamilyId[] = ['quadratic', 'density-decay'];
/** Starts whose stands differ by less, in logarithms, lead to one bottom. */
const APART = 0.2;

/** Sets `figures` to the best of the shapes gone through, followed to the bottom. False where no shape gives numbers. */
export function bestStart(work: FitWork, figures: Float64Array, family: FamilyId, ratio: number): boolean {
  if (!work.shape.includes(STAND)) return !Number.isNaN(findShape(work, figures, ratio, NEAR).rss);
  const found = shapeStarts(family, work.trial).flatMap(([stand, bend]) => {
    const own = figures.slice();
    own[STAND] = stand;
    if (work.shape.includes(BEND)) own[BEND] = bend;
    const rss = settle(work, own, ratio);
    return Number.isNaN(rss) ? [] : [{ own, rss }];
  });
  found.sort((a, b) => a.rss - b.rss);
  let least = Infinity;
  const most = OF_ONE_BOTTOM.includes(family) ? 1 : FOLLOWED;
  const followed: number[] = [];
  for (const { own } of found) {
    if (followed.length === most) break;
    const stand = own[STAND];
    if (followed.some((other) => Math.abs(Math.log(other / stand)) < APART)) continue;
    followed.push(stand);
    const { rss } = findShape(work, own, ratio, NEAR);
    if (!(rss < least)) continue;
    least = rss;
    figures.set(own);
  }
  return least < Infinity;
}
