import { sameCrop } from '../../math/crop-name.ts';
import { howPlausible } from '../plausible-yield.ts';
import type { YieldUnit } from '../yield-unit.ts';
import type { Meaning } from './meaning.ts';
import type { ColumnQuestion } from './role.ts';
import type { YieldLook } from './yield-look.ts';

/** Crops whose figures are looked at where nothing tells the crop; others sit too near to one of them. */
export const CROPS = ['corn', 'soybean', 'wheat'];
/** A ratio this much nearer to 1 is clearly the better one. */
const CLEARER = 0.004;

/** Crops of a column a person is asked to choose from. */
const MOST = 10;

/** Of which crop a yield is, where a column holds several or neither column nor file name tells and the figures, or flow and ground, speak for another. */
export function askCrop(
  best: Meaning,
  unit: string,
  { crop, planned, sample, told, check }: YieldLook,
): ColumnQuestion | null {
  if (told.crop !== undefined) return null;
  if (crop.several) {
    const { column, levels } = crop.several;
    // The planned crop is among the options, however few its records are.
    const shown = levels.filter((value, k) => k < MOST || value === crop.level);
    return {
      about: 'crop',
      options: shown.map((value) => ({ value, because: `in column ${column}`, column })),
      proposed: crop.level === null ? 0 : shown.indexOf(crop.level),
    };
  }
  if (crop.from !== 'the plan' || best.column.kind !== 'number') return null;
  const { p50 } = sample.figures(best.column);
  const sits = (own: string) => howPlausible(p50, unit as YieldUnit, own);
  const departure = check?.departure ?? {};
  const fits = Object.keys(departure);
  const plannedFits = fits.find((own) => sameCrop(own, planned));
  // Physics speaks for another crop only where it does not speak for the planned one nearly as well.
  const clearer = fits.filter(
    (own) => departure[own] < (plannedFits ? departure[plannedFits] - CLEARER : Infinity),
  );
  const against = fits.length > 0 && (plannedFits === undefined || clearer.length > 0);
  const asPlanned = sits(planned);
  if ((asPlanned === 'typical' || asPlanned === 'not told') && !against) return null;
  const others = (against ? clearer : CROPS)
    .filter((own) => !sameCrop(own, planned) && sits(own) === 'typical')
    .sort((a, b) => (departure[a] ?? 1) - (departure[b] ?? 1))
    .map((value) => ({
      value,
      because: `${figure(p50)} ${unit} is plausible for it${against ? ', and flow and ground make it so' : ''}`,
    }));
  if (others.length === 0) return null;
  if (against)
    return {
      about: 'crop',
      options: [...others, { value: planned, because: 'planned, though flow and ground make another yield' }],
      proposed: 0,
    };
  if (asPlanned === 'unusual')
    return {
      about: 'crop',
      options: [
        { value: planned, because: `planned, though ${figure(p50)} ${unit} is unusual for it` },
        ...others,
      ],
      proposed: 0,
    };
  return {
    about: 'crop',
    options: [
      ...others,
      { value: 'unknown', because: `${figure(p50)} ${unit} is no ${planned}, and nothing tells what it is` },
    ],
    proposed: others.length,
  };
}

/** A figure of a file, to three places. */
export function figure(value: number): string {
  return String(Number(value.toPrecision(3)));
}
