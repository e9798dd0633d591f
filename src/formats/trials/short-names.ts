import type { Issue } from '../../engine/issue.ts';
import { trialIssue } from './trial-issue.ts';

/** Names cut to `longest` letters where they are longer, a number at the end where two would be one; and what was cut. */
export function shortNames(
  names: readonly string[],
  longest: number,
): { names: readonly string[]; cut: readonly string[] } {
  const taken = new Set(names.filter((name) => name.length <= longest));
  const cut: string[] = [];
  const short = names.map((name) => {
    if (name.length <= longest) return name;
    let own = within(name, longest);
    for (let n = 2; taken.has(own); n++) own = `${within(name, longest - String(n).length - 1)} ${n}`;
    taken.add(own);
    cut.push(`${within(name, 80)}${name.length > 80 ? '…' : ''} → ${own}`);
    return own;
  });
  return { names: short, cut };
}

/** No letter outside the basic plane is cut in two. */
function within(name: string, length: number): string {
  let short = '';
  for (const letter of name) {
    if (short.length + letter.length > length) break;
    short += letter;
  }
  return short.trim();
}

export function longNameIssues(
  what: 'product' | 'site',
  cut: readonly string[],
  longest: number,
  file: string,
): Issue[] {
  if (cut.length === 0) return [];
  const more = cut.length > 5 ? ` and ${cut.length - 5} more` : '';
  return [
    trialIssue(
      'warning',
      `trial-long-${what}`,
      file,
      `${what}s of more than ${longest} letters: ${cut.slice(0, 5).join('; ')}${more}`,
      `names of up to ${longest} letters, as a lineup holds`,
      'They go by what is left when they are cut',
      'Shorten these names in the file',
    ),
  ];
}
