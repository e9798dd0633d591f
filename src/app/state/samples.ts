import { type Issue, Refusal } from '../../engine/issue.ts';
import type { FileBytes } from '../../formats/file-bytes.ts';
import type { Plan } from '../../plan/schema.ts';
import { readPlan } from '../../plan/validate.ts';

/** The invented fields that come with the app. */
export const samples: readonly { readonly id: string; readonly name: string; readonly what: string }[] = [
  { id: 'marl-hollow', name: 'Marl Hollow', what: 'corn, about 150 acres round a creek' },
  { id: 'heron-flat', name: 'Heron Flat', what: 'soybean, about 80 acres' },
];

/** A plan with the bytes it rests on, and what was found while opening it. */
export interface Opened {
  readonly plan: Plan;
  readonly files: readonly FileBytes[];
  readonly issues: readonly Issue[];
}

/** Fetch a sample field from beside the app. Throws a refusal where a file is not there. */
export async function fetchSample(id: string): Promise<Opened> {
  const base = new URL(`sample-fields/${id}/`, document.baseURI);
  const planFile = `${id}.plan.json`;
  const text = new TextDecoder().decode(await fetched(new URL(planFile, base)));
  const { plan, issues } = planFrom(text, planFile);
  const files = await Promise.all(
    plan.sources.map(async (source) => ({
      name: source.file,
      bytes: await fetched(new URL(source.file, base)),
    })),
  );
  return { plan, files, issues };
}

/** Read a plan from its text; a refusal says what is wrong with it. */
export function planFrom(text: string, where: string): { plan: Plan; issues: readonly Issue[] } {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    throw new Refusal({
      code: 'plan-not-json',
      where,
      found: error instanceof Error ? error.message : 'text that is not JSON',
      expected: 'a plan, as JSON',
      effect: 'The plan is not opened',
      remedy: 'Choose the file this app or the command line wrote',
    });
  }
  const { value, issues } = readPlan(json, where);
  if (value === null) throw new Refusal(issues.find((issue) => issue.severity === 'error') ?? issues[0]);
  return { plan: value, issues };
}

async function fetched(url: URL): Promise<Uint8Array> {
  const response = await fetch(url);
  if (!response.ok) {
    throw new Refusal({
      code: 'sample-missing',
      where: url.pathname,
      found: `no such file (${response.status})`,
      expected: 'a file of the sample field beside the app',
      effect: 'The sample is not opened',
      remedy: 'Build the app again and serve the whole folder',
    });
  }
  return new Uint8Array(await response.arrayBuffer());
}
