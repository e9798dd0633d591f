/** Counts cases of one kind and remembers where the first twenty were. */
export interface Tally {
  count: number;
  readonly first: string[];
}

export function newTally(): Tally {
  return { count: 0, first: [] };
}

export function note(tally: Tally, place: string | number): void {
  tally.count++;
  if (tally.first.length < 20) tally.first.push(String(place));
}

/** 'records 3, 9' or 'records 3, 9, … (31 in all)'. */
export function tallyText(tally: Tally, what: string): string {
  const list = tally.first.join(', ');
  return tally.count > tally.first.length ? `${what} ${list}, … (${tally.count} in all)` : `${what} ${list}`;
}
