import { median } from '../../src/engine/math/median.ts';
import type { Errors } from './against-truth.ts';
import type { Agreement } from './agreement.ts';
import type { Standing } from './race.ts';

/** Everyone's wall time and memory, and how many times longer each chain of GDAL takes than ours by each method. */
export function raceTable(ours: readonly Standing[], gdal: readonly Standing[]): string {
  const ratios = ours.map(({ name }) => `÷ ${name}`);
  const rows = [...ours, ...gdal].map((standing) => [
    standing.name,
    milliseconds(standing.ms),
    `${milliseconds(standing.least)} to ${milliseconds(standing.most)}`,
    standing.peak_MB === null ? 'not known' : standing.peak_MB.toFixed(0),
    ...ours.map((own) => (gdal.includes(standing) ? (standing.ms / own.ms).toFixed(2) : '')),
  ]);
  return markdown(['whole process', 'median ms', 'span ms', 'peak MB', ...ratios], rows);
}

/** Where our time goes: the steps as the process itself saw them, and the rest of its life. */
export function stepTable(ours: readonly Standing[]): string {
  const columns = ours.map(({ runs, ms }) => {
    const steps = runs.map(({ output }) => (JSON.parse(output) as { steps: Record<string, number> }).steps);
    const medians = Object.keys(steps[0]).map(
      (step) => [step, median(steps.map((each) => each[step]))] as const,
    );
    const sum = medians.reduce((total, [, each]) => total + each, 0);
    return new Map<string, number>([...medians, ['start and end of the process', ms - sum]]);
  });
  const rows = [...new Set(columns.toReversed().flatMap((steps) => [...steps.keys()]))].map((step) => [
    step,
    ...columns.map((steps) => (steps.has(step) ? milliseconds(steps.get(step)!) : '')),
  ]);
  return markdown(['step, median ms', ...ours.map(({ name }) => name)], rows);
}

export function agreementTable({ cells, both, oneAlone, median, largest }: Agreement): string {
  const figures = [cells, both, oneAlone, median.toExponential(1), largest.toExponential(1)].map(String);
  const heads = ['cells', 'known to both', 'to one alone', 'median difference, bu/ac', 'largest'];
  return markdown(heads, [figures]);
}

/** What cleaning found: the delay beside the true one, and the records set aside by reason. */
export function foundTable(
  { records, delay_s, setAside }: { records: number; delay_s: number; setAside: Record<string, number> },
  truth: { readonly delay_s: number },
): string {
  const sum = Object.values(setAside).reduce((total, own) => total + own, 0);
  return markdown(
    ['found by cleaning', ''],
    [
      [`delay, s (true: ${truth.delay_s})`, delay_s.toFixed(2)],
      ['records', String(records)],
      ['set aside', String(sum)],
      ...Object.entries(setAside).map(([reason, count]) => [reason, String(count)]),
    ],
  );
}

export function truthTable(surfaces: readonly (Errors & { readonly name: string })[]): string {
  return markdown(
    ['against the true yield of 360,000 cells', 'known', 'RMSE, bu/ac', 'mean error, bu/ac'],
    surfaces.map(({ name, known, rmse, bias }) => [name, String(known), rmse.toFixed(2), bias.toFixed(2)]),
  );
}

/** A whole run of a sample plan, for which nothing outside the project stands as a reference. */
export function sampleTable(ours: readonly Standing[]): string {
  const times = ours[0].runs.map(({ output }) => JSON.parse(output) as { cold: number; again: number });
  return markdown(
    ['marl-hollow, whole plan (no reference)', 'median ms'],
    [
      ['first run in a new process', milliseconds(median(times.map(({ cold }) => cold)))],
      ['run again after a change of the grain price', milliseconds(median(times.map(({ again }) => again)))],
    ],
  );
}

function milliseconds(ms: number): string {
  return ms.toFixed(0);
}

export function markdown(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  const rule = heads.map((_, k) => (k === 0 ? '---' : '---:'));
  return `${[heads, rule, ...rows].map(line).join('\n')}\n`;
}
