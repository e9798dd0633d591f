import type { GroundFacts } from './ground-facts.ts';
import type { PlacementRule } from './placement-rule.ts';
import { type HeldShare, heldShare } from './placement-share.ts';
import { becauseSentence, notKnownSentence } from './placement-words.ts';

/**
 * A rule must hold on more than this share of the ground to speak, by what it says. Soil lines are drawn to some ten metres, so a sliver keeps nothing out;
 * a soil a product must not stand on asks for care before it closes the whole ground. Our own choice, no source.
 */
export const NEVER_OVER = 0.2;
export const CARE_OVER = 0.05;
export const BEST_OVER = 0.5;

export type PlacementVerdict = 'not here' | 'care' | 'fits' | 'best';

/** What one rule says of one piece of ground. */
export interface RuleFinding {
  readonly rule: PlacementRule;
  /** As far as is known; null where the rule does not hold. */
  readonly says: Exclude<PlacementVerdict, 'fits'> | null;
  readonly share: HeldShare;
  /** Whether what is not known could make it say something else. */
  readonly open: boolean;
}

/** What a product's rules say of one piece of ground. */
export interface PlacementCheck {
  readonly verdict: PlacementVerdict;
  /** Why, in sentences, rules in the order of the lineup; empty where no rule holds. */
  readonly because: readonly string[];
  /** Rules that could not be looked at, in sentences. */
  readonly unknown: readonly string[];
  /** By rule, in the order of the lineup. */
  readonly findings: readonly RuleFinding[];
}

/** The check of a product without rules. */
export const NO_RULES: PlacementCheck = { verdict: 'fits', because: [], unknown: [], findings: [] };

/** What no rule speaks about fits. One `not here` outweighs all else, then `care`, then `best`. What is not known closes nothing and is told. */
export function checkPlacement(rules: readonly PlacementRule[], facts: GroundFacts): PlacementCheck {
  const findings = rules.map((rule): RuleFinding => {
    const share = heldShare(rule.where, facts);
    const says = verdictOf(rule, share.atLeast);
    return { rule, says, share, open: verdictOf(rule, share.atMost) !== says };
  });
  const weighed = (['not here', 'care', 'best'] as const).find((verdict) =>
    findings.some(({ says }) => says === verdict),
  );
  return {
    verdict: weighed ?? 'fits',
    because: findings.flatMap((finding) => becauseSentence(finding) ?? []),
    unknown: findings.flatMap((finding) => notKnownSentence(finding) ?? []),
    findings,
  };
}

function verdictOf({ verdict }: PlacementRule, share: number): RuleFinding['says'] {
  if (verdict === 'best') return share > BEST_OVER ? 'best' : null;
  if (verdict === 'never' && share > NEVER_OVER) return 'not here';
  return share > CARE_OVER ? 'care' : null;
}
