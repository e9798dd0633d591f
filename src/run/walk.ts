import { type Issue, Refusal } from '../engine/issue.ts';

export interface RunControl {
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: Progress) => void;
}

export interface Progress {
  /** What is being done, in words: `Reading yield-2024.csv`. */
  readonly step: string;
  /** 0..1 of the whole. */
  readonly share: number;
}

/** A control whose progress counts from one share of the whole to another. */
export function portion(control: RunControl, from: number, to: number): RunControl {
  const { onProgress } = control;
  if (!onProgress) return control;
  return {
    ...control,
    onProgress: ({ step, share }) => onProgress({ step, share: from + share * (to - from) }),
  };
}

/** What a stage answered last time, and what it needed then. */
export interface Remembered {
  readonly needs: readonly unknown[];
  readonly answer: unknown;
}

/** Answers by stage, kept between runs of one field. */
export type StageCache = Map<string, Remembered>;

/** A stage: what it needs (a plan slice is compared by content, everything else by identity) and the work itself. */
export interface Stage<T> {
  readonly id: string;
  readonly says: string;
  readonly needs: readonly unknown[];
  readonly run: () => T;
  /** What it would answer is for looking at alone: when it refuses, that is a warning. */
  readonly canDoWithout?: boolean;
}

/** Walks stages one after another: reuses an answer while its needs are the same, tells progress, stops when asked. */
export interface Walk {
  readonly issues: Issue[];
  /** The stage's answer, or null when it refused (the issue is noted) . */
  take<T extends object>(stage: Stage<T>): Promise<T | null>;
}

export function startWalk(cache: StageCache, stages: number, control: RunControl): Walk {
  const issues: Issue[] = [];
  let taken = 0;
  return {
    issues,
    async take<T extends object>(stage: Stage<T>): Promise<T | null> {
      control.onProgress?.({ step: stage.says, share: Math.min(1, taken++ / stages) });
      control.signal?.throwIfAborted();
      const before = cache.get(stage.id);
      let answer: T;
      if (before && sameNeeds(before.needs, stage.needs)) answer = before.answer as T;
      else {
        // Let a cancel in the queue be heard before the next piece of work.
        await new Promise((resolve) => setTimeout(resolve, 0));
        control.signal?.throwIfAborted();
        try {
          answer = stage.run();
        } catch (thrown) {
          if (!(thrown instanceof Refusal)) throw thrown;
          cache.delete(stage.id);
          issues.push(stage.canDoWithout ? { ...thrown.issue, severity: 'warning' } : thrown.issue);
          return null;
        }
        cache.set(stage.id, { needs: stage.needs, answer });
      }
      issues.push(...((answer as { readonly issues?: readonly Issue[] }).issues ?? []));
      return answer;
    },
  };
}

function sameNeeds(a: readonly unknown[], b: readonly unknown[]): boolean {
  return a.length === b.length && a.every((need, k) => need === b[k] || sameSlice(need, b[k]));
}

/** Plan slices are small plain objects without typed arrays; anything marked with `Slice` is compared by content. */
function sameSlice(a: unknown, b: unknown): boolean {
  return a instanceof Slice && b instanceof Slice && a.text === b.text;
}

/** A part of the plan as a need: equal when it says the same. */
export class Slice {
  readonly text: string;
  constructor(part: unknown) {
    this.text = JSON.stringify(part);
  }
}
