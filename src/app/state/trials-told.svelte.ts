import type { TrialsRequest, TrialsTold } from '../../jobs/trials-told.ts';
import type { Lineup } from '../../plan/lineup-schema.ts';
import type { Progress, RunControl } from '../../run/walk.ts';

type Ask = (request: TrialsRequest, control: RunControl) => Promise<TrialsTold | null>;

/** What the trials of the lineup tell, asked once for as long as they stay the same: a price changes none of it. */
export function createTrialsTold(askDesk: Ask) {
  let answered = $state.raw<{ readonly of: TrialsRequest; readonly told: TrialsTold | null } | null>(null);
  let progress = $state.raw<Progress | null>(null);
  let failed = $state<string | null>(null);
  let asked: TrialsRequest | null = null;
  let asking: AbortController | null = null;

  async function ask(request: TrialsRequest): Promise<void> {
    asking?.abort();
    const control = new AbortController();
    asking = control;
    asked = request;
    failed = null;
    progress = { step: 'Reading the trials', share: 0 };
    try {
      const told = await askDesk(request, {
        signal: control.signal,
        onProgress: (next) => {
          if (asking === control) progress = next;
        },
      });
      if (asking === control) answered = { of: request, told };
    } catch (error) {
      if (asking === control) failed = error instanceof Error ? error.message : 'an unknown failure';
    } finally {
      if (asking === control) {
        asking = null;
        progress = null;
      }
    }
  }

  return {
    /** Null while it is not known, and where there is nothing to tell. */
    of(request: TrialsRequest): TrialsTold | null {
      return answered && sameTrials(answered.of, request) ? answered.told : null;
    },
    get progress() {
      return progress;
    },
    /** Why it is not known. */
    get failed() {
      return failed;
    },
    /** Ask, unless these trials were asked of last. */
    want(request: TrialsRequest): void {
      if (!asked || !sameTrials(asked, request)) void ask(request);
    },
    again(): void {
      if (asked) void ask(asked);
    },
    cancel(): void {
      asking?.abort();
      asking = null;
      progress = null;
      failed = 'You stopped it.';
    },
  };
}

/** An edit of a product leaves the plots of all where they are. */
function sameTrials(a: TrialsRequest, b: TrialsRequest): boolean {
  return a.crop === b.crop && (a.lineup === b.lineup || samePlots(a.lineup, b.lineup));
}

function samePlots(a: Lineup, b: Lineup): boolean {
  return (
    a.sites === b.sites &&
    a.products.length === b.products.length &&
    a.products.every(({ crop, plots }, k) => crop === b.products[k].crop && plots === b.products[k].plots)
  );
}
