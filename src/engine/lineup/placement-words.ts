import type { PlacementVerdict, RuleFinding } from './placement-check.ts';
import type { PlacementRule } from './placement-rule.ts';

const LEADS: Readonly<Record<Exclude<PlacementVerdict, 'fits'>, string>> = {
  'not here': 'Not here',
  care: 'With care',
  best: 'Belongs here',
};

const ASKS: Readonly<Record<PlacementRule['verdict'], string>> = {
  never: 'must stay out',
  care: 'needs care',
  best: 'belongs here',
};

/** `Not here because it lodges on wet ground (by J. Hall): drainage 3.2.` Null where the rule does not hold. */
export function becauseSentence({ rule, says, share }: RuleFinding): string | null {
  if (says === null) return null;
  const partly = rule.verdict === 'never' && says === 'care' ? ', and there it must not go' : '';
  const ground = share.said.length > 0 ? `: ${share.said.join('; ')}${partly}` : '';
  return `${LEADS[says]} because ${reasonBy(rule)}${ground}.`;
}

/** `Not known here: slope. So nobody can tell whether it must stay out because it lodges (by J. Hall).` Null where what is not known makes no difference. */
export function notKnownSentence({ rule, share, open }: RuleFinding): string | null {
  if (!open) return null;
  return `Not known here: ${share.notKnown.join('; ')}. So nobody can tell whether it ${ASKS[rule.verdict]} because ${reasonBy(rule)}.`;
}

/** The reason with who says so, without a full stop. */
export function reasonBy({ reason, by }: PlacementRule): string {
  const text = reason.trim().replace(/[.\s]+$/, '');
  return by.trim() === '' ? text : `${text} (by ${by.trim()})`;
}
