import type { Plan } from '../../plan/schema.ts';
import type { PriceGrid } from '../../run/price-grid.ts';
import type { Progress, RunControl } from '../../run/walk.ts';

type Ask = (request: { plan: Plan }, control: RunControl) => Promise<PriceGrid | null>;

/** What a plan would be worth at other prices. It can be asked of the plan that was run last alone, so it waits for that run and gives way to the next. */
export function createOtherPrices(askDesk: Ask) {
  let answered = $state.raw<{ readonly plan: Plan; readonly grid: PriceGrid | null } | null>(null);
  let progress = $state.raw<Progress | null>(null);
  let failed = $state<string | null>(null);
  let asked: Plan | null = null;
  let asking: AbortController | null = null;

  async function ask(plan: Plan): Promise<void> {
    asking?.abort();
    const control = new AbortController();
    asking = control;
    asked = plan;
    failed = null;
    progress = { step: 'Trying other prices', share: 0 };
    try {
      const grid = await askDesk(
        { plan },
        {
          signal: control.signal,
          onProgress: (next) => {
            if (asking === control) progress = next;
          },
        },
      );
      if (asking === control) answered = { plan, grid };
    } catch (error) {
      if (asking === control) failed = error instanceof Error ? error.message : 'an unknown failure';
    } finally {
      if (asking === control) {
        asking = null;
        progress = null;
      }
    }
  }

  function leave(): void {
    asking?.abort();
    asking = null;
    asked = null;
    progress = null;
    failed = null;
  }

  return {
    /** What was answered last, and of which plan: an edit may have left it behind. */
    get answered() {
      return answered;
    },
    get progress() {
      return progress;
    },
    /** Why it is not known. */
    get failed() {
      return failed;
    },
    /** Ask, unless it is known or was asked of this plan since the last run. */
    want(plan: Plan): void {
      if (asked !== plan && answered?.plan !== plan) void ask(plan);
    },
    again(plan: Plan): void {
      void ask(plan);
    },
    cancel(): void {
      asking?.abort();
      asking = null;
      progress = null;
      failed = 'You stopped it.';
    },
    /** Give way to a run: what was asked is of the plan before it. */
    leave,
    /** Another field is opened. */
    forget(): void {
      leave();
      answered = null;
    },
  };
}
