import type { Plan } from '../schema.ts';

/** An edit: plan → plan, or the reason it is refused, in words for the user. The plan given is never changed. */
export type Edited =
  | { readonly plan: Plan; readonly refused: null }
  | { readonly plan: null; readonly refused: string };

export function done(plan: Plan): Edited {
  return { plan, refused: null };
}

export function refused(reason: string): Edited {
  return { plan: null, refused: reason };
}
