import { describe, expect, it } from 'vitest';
import type { RatingScale } from '../../../src/engine/lineup/product.ts';
import { ratingShare, ratingWords } from '../../../src/engine/lineup/rating-share.ts';

const nineBest: RatingScale = { id: 'notes', lowest: 1, highest: 9, best: 'highest' };
const oneBest: RatingScale = { id: 'ranks', lowest: 1, highest: 5, best: 'lowest' };
const note = (value: number, scale: RatingScale) => ({ of: 'drought', value, scale: scale.id });

describe('a note on its scale', () => {
  it.each([
    [1, nineBest, 0],
    [5, nineBest, 0.5],
    [9, nineBest, 1],
    [1, oneBest, 1],
    [2, oneBest, 0.75],
    [5, oneBest, 0],
  ])('%d on %o lies at %d from the worst to the best', (value, scale, share) => {
    // Quarters and halves are exact.
    expect(ratingShare(note(value, scale), scale)).toBe(share);
  });

  it('is not known where nothing was rated, beyond the scale, and on another scale', () => {
    expect(ratingShare(undefined, nineBest)).toBeNaN();
    expect(ratingShare(null, oneBest)).toBeNaN();
    expect(ratingShare(note(NaN, nineBest), nineBest)).toBeNaN();
    expect(ratingShare(note(0, nineBest), nineBest)).toBeNaN();
    expect(ratingShare(note(10, nineBest), nineBest)).toBeNaN();
    expect(ratingShare(note(3, nineBest), oneBest)).toBeNaN();
    expect(ratingShare(note(3, nineBest), { ...nineBest, lowest: 3, highest: 3 })).toBeNaN();
  });

  it('is said with its scale and which end is the best', () => {
    expect(ratingWords('drought', note(7, nineBest), nineBest)).toBe('drought 7 of 1 to 9, 9 the best');
    expect(ratingWords('drought', note(2, oneBest), oneBest)).toBe('drought 2 of 1 to 5, 1 the best');
    expect(ratingWords('drought', undefined, nineBest)).toBe('drought not rated');
  });
});
