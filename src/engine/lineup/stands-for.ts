import type { Curve } from '../response/curve.ts';

/** Places in the range of the stands tried at which the yield of a curve of so many figures is known much as the plots know it: those of Gauss's quadrature. */
const PLACES: readonly (readonly number[])[] = [
  [],
  [0.5],
  [0.5 - Math.sqrt(1 / 12), 0.5 + Math.sqrt(1 / 12)],
  [0.5 - Math.sqrt(3 / 20), 0.5, 0.5 + Math.sqrt(3 / 20)],
];
/** Shares of the best stand that stand for the range where it was not told. Our own choice. */
const AROUND = [0.6, 1.4] as const;
/** Shares of the joint: of the climb before it and of the plateau beyond it, far enough off not to change sides on the way to an end. Our own choice, by what held the truth most often. */
const BEFORE_JOINT = { linear: [0.02, 0.1], quadratic: [0.6, 0.8] } as const;
const BEYOND_JOINT = 40;

/** Stands, 1000 plants/ac, by the yields at which a curve of so many unsure figures is told. */
export function standsFor(
  { family, stand }: Curve,
  best: number,
  figures: number,
  tested_plantsPerAc: { readonly min: number; readonly max: number } | null,
): number[] {
  if (family === 'linear-plateau' || family === 'quadratic-plateau') {
    const before = BEFORE_JOINT[family === 'linear-plateau' ? 'linear' : 'quadratic'];
    return [...before, BEYOND_JOINT].slice(-figures).map((share) => share * stand);
  }
  const [min, max] = tested_plantsPerAc
    ? [tested_plantsPerAc.min / 1000, tested_plantsPerAc.max / 1000]
    : AROUND.map((share) => share * best);
  return PLACES[figures].map((place) => min + place * (max - min));
}
