/** Immutable states with what was done, oldest first; undo and redo move along them. */
export interface History<T> {
  readonly states: readonly { readonly value: T; readonly note: string }[];
  readonly at: number;
}

/** States kept; older ones fall off. */
const LONGEST = 200;

export function startHistory<T>(value: T): History<T> {
  return { states: [{ value, note: 'opened' }], at: 0 };
}

export function present<T>(history: History<T>): T {
  return history.states[history.at].value;
}

/** Add a state after the present one; what had been undone is gone. With the same `merge` as the last note, the last state is replaced (a drag). */
export function record<T>(history: History<T>, value: T, note: string, merge = false): History<T> {
  if (value === present(history)) return history;
  const past = history.states.slice(0, history.at + 1);
  if (merge && history.at > 0 && past[history.at].note === note) past.pop();
  const states = [...past, { value, note }].slice(-LONGEST);
  return { states, at: states.length - 1 };
}

export function undo<T>(history: History<T>): History<T> {
  return history.at > 0 ? { ...history, at: history.at - 1 } : history;
}

export function redo<T>(history: History<T>): History<T> {
  return history.at < history.states.length - 1 ? { ...history, at: history.at + 1 } : history;
}
