import type { Issue } from '../engine/issue.ts';

/** The warning for a layer that is whole and holds nothing. */
export function emptyLayer(where: string, what: 'records' | 'features' | 'rows'): Issue {
  return {
    code: 'empty-layer',
    severity: 'warning',
    where,
    found: `0 ${what}`,
    expected: 'at least one',
    effect: 'There is nothing to use in it',
    remedy: 'Export the layer again if it should hold something',
  };
}
