import { CLEANING_RULES } from '../../../engine/harvest/clean-harvest.ts';

/** A reason in words: the rule's own title, or what a reader called it. */
export function reasonTitle(reason: string): string {
  return CLEANING_RULES.find(({ id }) => id === reason)?.title ?? reason.replaceAll('-', ' ');
}
