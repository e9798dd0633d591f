import type { PlacementCondition, PlacementRule } from '../../../engine/lineup/placement-rule.ts';
import { figure } from '../../parts/figures.ts';

export const VERDICTS: Readonly<Record<PlacementRule['verdict'], string>> = {
  never: 'Not',
  care: 'With care',
  best: 'Best',
};

/** `on ground of 180 bu/ac or less`. */
export function conditionWords(condition: PlacementCondition): string {
  switch (condition.on) {
    case 'environment':
      return `on ground of ${rangeWords(condition.from, condition.to)} bu/ac`;
    case 'layer':
      return `where ${condition.layer} is ${rangeWords(condition.from, condition.to)}${condition.unit ? ` ${condition.unit}` : ''}`;
    case 'soil attribute':
      return `where ${condition.attribute} is ${condition.anyOf.join(' or ')}`;
    case 'soil':
      return `on ${condition.anyOf.join(' or ')}`;
    case 'zone':
      return `in ${condition.anyOf.join(' or ')}`;
  }
}

function rangeWords(from: number | null, to: number | null): string {
  if (from === null) return to === null ? 'anything' : `${trimmed(to)} or less`;
  return to === null ? `${trimmed(from)} or more` : `${trimmed(from)} to ${trimmed(to)}`;
}

function trimmed(value: number): string {
  return figure(value, Number.isInteger(value) ? 0 : 1);
}
