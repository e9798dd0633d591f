import type { Rating, RatingScale } from './product.ts';

/**
 * Where a note lies between the worst (0) and the best (1) its scale has, whichever way the scale runs. NaN, not known, for what was not rated, for a note beyond the
 * scale, and for a scale of another name: blank is never the worst.
 */
export function ratingShare(rating: Rating | null | undefined, scale: RatingScale): number {
  if (!rating || rating.scale !== scale.id) return NaN;
  const { lowest, highest, best } = scale;
  if (!(lowest < highest && rating.value >= lowest && rating.value <= highest)) return NaN;
  const up = (rating.value - lowest) / (highest - lowest);
  return best === 'highest' ? up : 1 - up;
}

/** `drought 7 of 1 to 9, 9 the best`, or `drought not rated`. */
export function ratingWords(of: string, rating: Rating | null | undefined, scale: RatingScale): string {
  if (!rating || Number.isNaN(ratingShare(rating, scale))) return `${of} not rated`;
  const { lowest, highest, best } = scale;
  return `${of} ${rating.value} of ${lowest} to ${highest}, ${best === 'highest' ? highest : lowest} the best`;
}
