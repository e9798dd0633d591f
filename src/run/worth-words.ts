import { GAIN_WORTH_HAVING_PER_AC, verdictOf } from '../engine/rates/verdict.ts';
import type { Worth } from '../engine/rates/worth.ts';
import type { Plan } from '../plan/schema.ts';
import { figure } from './figures.ts';
import type { Results } from './results.ts';
import type { JudgedWorth } from './stages/judge-worth.ts';
import type { LimitPrice } from './stages/price-limits.ts';

/** What the plan is worth, for the answer. */
export function worthInBrief({ perAc }: Worth, sure: JudgedWorth | null): string {
  const verdict = verdictOf(perAc, sure?.gain ?? null, sure?.mapCost_perAc);
  const chance = sure && sure.gain.low < sure.gain.high ? `, ${chanceText(sure.gain.ahead)}` : '';
  if (verdict === 'map') return `an estimated ${figure.cents(perAc)}/ac over the best flat plan${chance}`;
  if (verdict === 'loses') return `an estimated ${figure.cents(-perAc)}/ac under the best flat plan`;
  // Beside a gain too small to matter a chance would be read as that of the products.
  return perAc - (sure?.mapCost_perAc ?? 0) < GAIN_WORTH_HAVING_PER_AC || chance === ''
    ? 'flat is as good'
    : `flat is as good: ${figure.cents(perAc)}/ac over it, only ${chanceText(sure?.gain.ahead ?? 0)}`;
}

/** A gain too small to be named beside the verdict, $/ac. */
const SMALL_PER_AC = 0.05;

/** The verdict and all it rests on, sentence by sentence; none without a worth. */
export function worthSentences(
  { worth, sure, lineup, limits, hands, zoning }: Results,
  plan: Plan,
): string[] {
  if (worth === null) return [];
  return [
    verdictSentence(worth, sure, lineup),
    ...(plan.worth.mapCost_perAc > 0
      ? [`Planting by map costs ${figure.cents(plan.worth.mapCost_perAc)}/ac, which it must bring first.`]
      : []),
    ...partsSentence(worth),
    ...limits.map(limitSentence),
    ...hands.map(({ zone, perAc }) =>
      handSentence(zoning?.zones.find(({ id }) => id === zone)?.name ?? '', perAc),
    ),
    ...breakEvenSentence(worth),
    ...(sure ? [...usualSentence(sure, lineup), knowingSentence(sure), restsOn(sure, plan)] : []),
    ...(sure ? takenAsSure(sure, lineup) : []),
  ];
}

type Named = Results['lineup'];

function verdictSentence(worth: Worth, sure: JudgedWorth | null, lineup: Named): string {
  const { flat, perAc, perField } = worth;
  const other = `the best flat plan, ${lineup[flat.product].name} at ${figure.whole(flat.seedsPerAc)} seeds/ac`;
  const gain = `an estimated ${figure.cents(Math.abs(perAc))}/ac (${figure.dollars(Math.abs(perField))} on the field)`;
  const verdict = verdictOf(perAc, sure?.gain ?? null, sure?.mapCost_perAc);
  if (verdict === 'loses')
    return `The plan earns ${gain} less than ${other}: what is set by hand, or a rule or limit, costs that.`;
  const spread = sure && sure.gain.low < sure.gain.high ? sure.gain : null;
  const how = spread
    ? `, nine times in ten between ${figure.cents(spread.low)} and ${figure.cents(spread.high)}, ${chanceText(spread.ahead)}`
    : '';
  if (verdict === 'map') return `Planting by map pays ${gain} over ${other}${how}.`;
  return perAc >= SMALL_PER_AC
    ? `A flat plan is as good: the map brings ${gain} over ${other}${how}, which is too little to go by.`
    : `A flat plan is as good: ${lineup[flat.product].name} at ${figure.whole(flat.seedsPerAc)} seeds/ac earns within cents of the map.`;
}

/** Never wholly sure and never hopeless: worlds are drawn, and not all there are. */
export function chanceText(ahead: number): string {
  const share = Math.round(100 * ahead);
  if (share >= 100) return 'over 99 % likely to pay';
  return share <= 0 ? 'under 1 % likely to pay' : `${share} % likely to pay`;
}

function partsSentence({ parts, perAc }: Worth): string[] {
  if (parts === null || Math.abs(perAc) < SMALL_PER_AC) return [];
  return [
    `Of that ${figure.cents(parts.ratesPerAc)} comes of rates and ${figure.cents(parts.productsPerAc)} of placing products.`,
  ];
}

function limitSentence({ says, costsPerAc }: LimitPrice): string {
  return `Held by ${says}: without that the field would earn ${figure.cents(costsPerAc ?? 0)}/ac more.`;
}

function handSentence(zone: string, perAc: number): string {
  return Math.abs(perAc) < SMALL_PER_AC
    ? `What is set by hand on ${zone} costs nothing worth naming.`
    : `What is set by hand on ${zone} ${perAc > 0 ? 'costs' : 'brings'} ${figure.cents(Math.abs(perAc))}/ac of the field.`;
}

function breakEvenSentence({ perAc, breakEven }: Worth): string[] {
  if (Math.abs(perAc) < SMALL_PER_AC || breakEven === null) return [];
  return [
    `It ${perAc > 0 ? 'pays' : 'would pay'} while a bushel, drying and hauling paid, brings ${breakEven.side} ${figure.cents(breakEven.netPrice_perBu)}.`,
  ];
}

function usualSentence({ usual }: JudgedWorth, lineup: Named): string[] {
  if (usual === null) return [];
  const { low, high, ahead } = usual.chances;
  return [
    `Over the usual ${lineup[usual.product].name} at ${figure.whole(usual.seedsPerAc)} seeds/ac it ${usual.perAc < 0 ? 'loses' : 'earns'} ${figure.cents(Math.abs(usual.perAc))}/ac, ${figure.dollars(Math.abs(usual.perField))} on the field (${figure.cents(low)} to ${figure.cents(high)}, ${chanceText(ahead)}).`,
  ];
}

function knowingSentence({ knowingPerAc }: JudgedWorth): string {
  return `Acting on trials and maps as they are costs ${figure.cents(knowingPerAc)}/ac against knowing the truth: better ones could bring no more than that.`;
}

function restsOn({ draws, ground }: JudgedWorth, { worth }: Plan): string {
  const zones = Math.max(...ground.zoneSd_buPerAc);
  const told =
    ground.from === 'years'
      ? `as the years tell (standard deviation ${figure.tenth(zones)} bu/ac at most)`
      : `as assumed (standard deviation ${figure.tenth(zones)} bu/ac at most)`;
  return `Drawn ${figure.whole(draws)} times: curves as their trials tell, zones ${told}, the yield of the field by ${figure.tenth(ground.levelSd_buPerAc)} bu/ac and the grain price by ${share(worth.priceSpread)} as assumed.`;
}

function share(of: number): string {
  return `${figure.whole(100 * of)} %`;
}

function takenAsSure({ takenAsSure: own }: JudgedWorth, lineup: Named): string[] {
  if (own.length === 0) return [];
  const names = own.map((product) => lineup[product].name);
  return [
    `How sure ${names.join(' and ')} ${names.length === 1 ? 'is' : 'are'} the lineup does not say: taken as sure, so the interval is too narrow.`,
  ];
}
