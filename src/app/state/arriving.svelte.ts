import { issueText, Refusal } from '../../engine/issue.ts';
import type { LineupDraft, LineupRequest, SaidOfLineupFile } from '../../jobs/draft-lineup.ts';
import type { Lineup } from '../../plan/lineup-schema.ts';
import type { Progress, RunControl } from '../../run/walk.ts';
import { bytesOf, type ChosenFile } from './chosen-files.ts';

type Draft = (request: LineupRequest, control: RunControl) => Promise<LineupDraft>;

/** Files of trials and products that were handed in and are looked at, before any of it is taken. Looked at anew with every word said of them. */
export function createArriving(draftLineup: Draft) {
  let request = $state.raw<LineupRequest | null>(null);
  let draft = $state.raw<LineupDraft | null>(null);
  let progress = $state.raw<Progress | null>(null);
  let failed = $state<string | null>(null);
  let looking: AbortController | null = null;

  async function look(next: LineupRequest): Promise<void> {
    looking?.abort();
    const control = new AbortController();
    looking = control;
    request = next;
    failed = null;
    progress = { step: 'Reading the files', share: 0 };
    try {
      const made = await draftLineup(next, {
        signal: control.signal,
        onProgress: (now) => {
          if (looking === control) progress = now;
        },
      });
      if (looking === control) draft = made;
    } catch (error) {
      if (looking === control && !control.signal.aborted)
        failed = error instanceof Error ? error.message : 'an unknown failure';
    } finally {
      if (looking === control) {
        looking = null;
        progress = null;
      }
    }
  }

  function leave(): void {
    looking?.abort();
    looking = null;
    request = draft = progress = null;
    failed = null;
  }

  return {
    /** Whether anything is looked at, or could not be. */
    get open() {
      return request !== null || failed !== null;
    },
    get request() {
      return request;
    },
    /** What would come of it; that of the words before while it is looked at anew. */
    get draft() {
      return draft;
    },
    get progress() {
      return progress;
    },
    /** Why it could not be looked at, apart from what is wrong with the files. */
    get failed() {
      return failed;
    },
    /** Files beside those that are looked at already; of one name the newer holds. */
    async offer(chosen: readonly ChosenFile[], known: Lineup | null, name: string): Promise<void> {
      let files: Awaited<ReturnType<typeof bytesOf>>[];
      try {
        files = await Promise.all(chosen.map((file) => bytesOf(file)));
      } catch (error) {
        failed = error instanceof Refusal ? issueText(error.issue) : String(error);
        return;
      }
      const names = new Set(files.map((file) => file.name));
      const before = (request?.files ?? []).filter((file) => !names.has(file.name));
      const said = Object.fromEntries(
        Object.entries(request?.said ?? {}).filter(([file]) => !names.has(file)),
      );
      const keepTrials = request?.keepTrials ?? true;
      return look({ files: [...before, ...files], said, known, name, keepTrials });
    },
    say(file: string, said: SaidOfLineupFile): Promise<void> {
      return request ? look({ ...request, said: { ...request.said, [file]: said } }) : Promise.resolve();
    },
    keepTrials(keepTrials: boolean): Promise<void> {
      return request ? look({ ...request, keepTrials }) : Promise.resolve();
    },
    /** The lineup has changed under it. */
    lookAgain(known: Lineup | null): Promise<void> {
      return request ? look({ ...request, known }) : Promise.resolve();
    },
    /** Stop looking; what was found before stays. Without that there is nothing to stay for. */
    cancel(): void {
      if (draft === null) leave();
      else looking?.abort();
    },
    leave,
  };
}
