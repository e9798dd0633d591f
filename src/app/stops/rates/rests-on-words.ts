import type { Issue } from '../../../engine/issue.ts';
import type { Plan } from '../../../plan/schema.ts';
import type { JudgedWorth } from '../../../run/stages/judge-worth.ts';
import { figure, percent } from '../../parts/figures.ts';

type Named = readonly { readonly name: string }[];

/** What was drawn, how often and by how much. */
export function restsOn({ draws, ground, takenAsSure }: JudgedWorth, { worth }: Plan, lineup: Named): string {
  const zones = figure(Math.max(...ground.zoneSd_buPerAc), 1);
  const told = ground.from === 'years' ? 'as its years tell' : 'as assumed';
  const drawn = `Drawn ${figure(draws)} times: curves as their trials tell, each zone by ${zones} bu/ac at most ${told}, the yield of the field by ${figure(ground.levelSd_buPerAc, 1)} bu/ac and the grain price by ${percent(worth.priceSpread)} as assumed (standard deviations).`;
  if (takenAsSure.length === 0) return drawn;
  const names = takenAsSure.map((product) => lineup[product].name).join(' and ');
  return `${drawn} How sure ${names} ${takenAsSure.length === 1 ? 'is' : 'are'} the lineup does not say: taken as sure, so the interval is too narrow.`;
}

/** Products planted that were tried at one site, or that no trial holds against the others: one line, or null. */
export function littleTried(issues: readonly Issue[]): string | null {
  const named = (code: string) => issues.flatMap((issue) => (issue.code === code ? [issue.where] : []));
  const oneSite = named('planted-on-one-site');
  const neverMet = named('products-never-met');
  const parts = [
    ...(oneSite.length > 0
      ? [`${oneSite.join(' and ')} ${oneSite.length === 1 ? 'was' : 'were'} tried at one site alone`]
      : []),
    ...(neverMet.length > 0
      ? [`no trial holds ${neverMet.join(' and ')} against some of the products open here`]
      : []),
  ];
  if (parts.length === 0) return null;
  const line = parts.join('; ');
  return `${line[0].toUpperCase()}${line.slice(1)}.`;
}
