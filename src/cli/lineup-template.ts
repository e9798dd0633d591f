import { lineupTemplate } from '../formats/lineup/template-lineup.ts';
import { trialTemplate } from '../formats/lineup/template-trial.ts';
import { saveFile } from './disk.ts';
import { DONE, tell, tellJson } from './tell.ts';

export const TEMPLATES = ['trials', 'products'] as const;
export type TemplateName = (typeof TEMPLATES)[number];

export interface TemplateOptions {
  readonly out: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

/** `eachacre lineup template trials|products --out FILE`: a table to fill in; its rows are invented and show what goes where. */
export function saveTemplate(which: TemplateName, { out, force, json }: TemplateOptions): number {
  const text = which === 'trials' ? trialTemplate() : lineupTemplate();
  saveFile(out, new TextEncoder().encode(text), force ?? false);
  if (json) tellJson({ out, template: which, issues: [] });
  else tell(`Wrote ${out}: put your own ${which} in place of the examples.`);
  return DONE;
}
