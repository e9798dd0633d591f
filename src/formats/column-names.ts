import type { Issue } from '../engine/issue.ts';

/**
 * Names made unique in their order: blank ones become `column3`, a repeated `ID` becomes `ID_2`.
 * Any name survives otherwise, `__proto__` and `constructor` included. One note lists the renamed.
 */
export function uniqueNames(names: readonly string[], where: string): { names: string[]; issues: Issue[] } {
  const taken = new Set(names.map((name) => name.trim()));
  const seen = new Set<string>();
  const renamed: string[] = [];
  const unique = names.map((raw, index) => {
    const name = raw.trim() === '' ? `column${index + 1}` : raw.trim();
    let free = name;
    for (let n = 2; seen.has(free) || (free !== name && taken.has(free)); n++) free = `${name}_${n}`;
    seen.add(free);
    if (free !== raw.trim()) renamed.push(`column ${index + 1} '${raw.trim()}' → '${free}'`);
    return free;
  });
  if (renamed.length === 0) return { names: unique, issues: [] };
  const issue: Issue = {
    code: 'column-renamed',
    severity: 'note',
    where,
    found: `${renamed.slice(0, 20).join(', ')}${renamed.length > 20 ? ` and ${renamed.length - 20} more` : ''}`,
    expected: 'every column with a name of its own',
    effect: 'The columns are all kept under the new names',
    remedy: 'Nothing to do, or rename them in the file',
  };
  return { names: unique, issues: [issue] };
}
