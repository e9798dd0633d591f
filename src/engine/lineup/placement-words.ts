import type { PlacementCheck, PlacementVerdict, RuleFinding } from './placement-check.ts';
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
export function becauseSentence(finding: RuleFinding): string | null {
  return finding.says === null ? null : `${LEADS[finding.says]} ${becauseText(finding)}.`;
}

/** Why a product is kept out, within a sentence: `because it lodges (by J. Hall): slope 6 %`; '' where nothing keeps it out. */
export function keptOutText({ findings }: PlacementCheck): string {
  return findings
    .filter(({ says }) => says === 'not here')
    .map(becauseText)
    .join(', and ');
}

function becauseText({ rule, says, share }: RuleFinding): string {
  const partly = rule.verdict === 'never' && says === 'care' ? ', and there it must not go' : '';
  const ground = share.said.length > 0 ? `: ${share.said.join('; ')}${partly}` : '';
  return `because ${reasonBy(rule)}${ground}`;
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
