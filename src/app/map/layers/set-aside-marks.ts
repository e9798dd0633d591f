/** Kinds of reasons to set a point aside. Each has a mark of its own, so that they are told apart without colour. */
export type MarkId = 'place' | 'driving' | 'reading' | 'neighbours';

export interface SetAsideMark {
  readonly id: MarkId;
  readonly name: string;
  /** SVG path in a box from −1 to 1. */
  readonly path: string;
}

export const setAsideMarks: readonly SetAsideMark[] = [
  { id: 'place', name: 'place in doubt', path: 'M.85 0A.85 .85 0 1 1 -.85 0A.85 .85 0 1 1 .85 0Z' },
  { id: 'driving', name: 'how it was driven', path: 'M0 -1V1' },
  { id: 'reading', name: 'reading in doubt', path: 'M-.75 -.75L.75 .75M-.75 .75L.75 -.75' },
  { id: 'neighbours', name: 'unlike its neighbours', path: 'M0 -.9L.9 .7H-.9Z' },
];

const kinds: Readonly<Record<string, MarkId>> = {
  'no-position': 'place',
  'position-jump': 'place',
  'outside-field': 'place',
  'co-located': 'place',
  'no-value': 'reading',
  'moisture-range': 'reading',
  'biological-range': 'reading',
  'too-low': 'reading',
  'too-high': 'reading',
  'global-outlier': 'reading',
  'local-outlier': 'neighbours',
  'local-moran': 'neighbours',
};

/** The mark of a reason: all that is not about place, reading or neighbours is about how the machine was driven. */
export function markOf(reason: string): SetAsideMark {
  const id = kinds[reason] ?? 'driving';
  return setAsideMarks.find((mark) => mark.id === id) ?? setAsideMarks[0];
}
