import { sameCrop } from '../engine/math/crop-name.ts';
import type { Ledger } from '../engine/prescription/ledger.ts';
import type { Plan } from '../plan/schema.ts';
import { yieldId } from '../plan/yield-id.ts';
import { figure } from './figures.ts';
import type { Results } from './results.ts';
import { neverMetWords, triedAtOneSite } from './stages/judge-trials.ts';
import { worthInBrief } from './worth-words.ts';

/** The answer in one sentence, always true: what there is so far, and what is missing. */
export function answerSentence(results: Results, plan: Plan): string {
  const { field, zoning, ledger, worth, sure } = results;
  if (!field) return 'No boundary that can be used yet.';
  const acres = `${figure.acres(field.acres)} ac`;
  if (!zoning) return `${acres} · no zones yet`;
  if (!ledger) {
    const missing =
      plan.lineup === null
        ? 'No lineup yet'
        : plan.money.grainPrice_perBu === null
          ? 'No prices yet'
          : 'No rates yet';
    return `${acres} · ${figure.count(zoning.zones.length, 'zone')} · ${missing}: worth unknown`;
  }
  const { total } = ledger;
  const answer = `${acres} · ${figure.seeds(total.seeds)} seeds · ${toOrder(ledger)} to order for ${figure.dollars(orderCost(ledger))} · ${worth === null ? noWorthText(results) : worthInBrief(worth, sure)}`;
  return [answer, ...littleTried(results), ...neverCompared(results)].join(' · ');
}

/** Products planted that were tried at one site: no dollar of theirs is to be read without that. */
function littleTried({ choices, lineup }: Results): string[] {
  const planted = new Set((choices ?? []).map(({ chosen }) => chosen.product));
  const names = [...planted].filter((own) => triedAtOneSite(lineup[own])).map((own) => lineup[own].name);
  return names.length === 0
    ? []
    : [`${names.join(' and ')} ${names.length === 1 ? 'was' : 'were'} tried at one site alone`];
}

function orderCost({ order }: Ledger): number {
  return order.reduce((sum, { cost }) => sum + cost, 0);
}

/** Bags to order, or boxes. */
function toOrder({ order }: Ledger): string {
  const units = order.reduce((sum, line) => sum + line.units, 0);
  const boxes = order.reduce((sum, line) => sum + (line.boxes ?? 0), 0);
  return order.every((line) => line.boxes === null)
    ? figure.count(units, 'unit')
    : boxes === 1
      ? '1 box'
      : `${figure.whole(boxes)} boxes`;
}

/** Products planted that no trial holds against others that might stand there. */
function neverCompared({ choices, lineup }: Results): string[] {
  return neverMetWords(lineup, [...new Set((choices ?? []).map(({ chosen }) => chosen.product))]);
}

function noWorthText({ placement }: Results): string {
  const everywhere = placement?.[0]?.some((_, product) =>
    placement.every((checks) => checks[product].verdict !== 'not here'),
  );
  return everywhere === false
    ? 'no product may go everywhere, so there is no flat plan to set it against'
    : 'worth unknown';
}

export const stopIds = ['field', 'evidence', 'zones', 'lineup', 'rates', 'review', 'hand-off'] as const;
export type StopId = (typeof stopIds)[number];

export interface StopSays {
  readonly state: 'settled' | 'needs you' | 'not begun';
  readonly text: string;
}

/** Readings of the yield maps in use that only a person can settle, and nobody has. */
function openReadings({ yields }: Results, plan: Plan): number {
  const open = new Map(plan.evidence.yields.map((map) => [yieldId(map), map.use ? map.open : []]));
  return yields.reduce(
    (sum, { id, questions }) => sum + questions.filter(({ about }) => open.get(id)?.includes(about)).length,
    0,
  );
}

/** What keeps products and rates from being set, in sentences; empty where they are, or where nothing more is wanted. */
export function missingForRates({ field, zoning, lineup, choices }: Results, plan: Plan): string[] {
  if (choices) return [];
  return [
    ...(field ? [] : ['There is no boundary that can be used.']),
    ...(field && !zoning ? ['There are no zones yet.'] : []),
    ...(plan.lineup === null ? ['The plan has no lineup: the products on offer, with how they answer.'] : []),
    ...(plan.lineup !== null && lineup.length === 0
      ? [`No ${plan.crop} product of the lineup can be used.`]
      : []),
    ...(plan.money.grainPrice_perBu === null ? ['There is no grain price.'] : []),
  ];
}

/** `8 corn products`; of 12, where 4 cannot be placed or are left out. */
function lineupText({ lineup, lineupDocument }: Results, { crop }: Plan): string {
  const there = lineupDocument?.products.filter((product) => sameCrop(product.crop, crop)).length;
  const own = figure.count(lineup.length, `${crop} product`);
  return there === undefined || there === lineup.length
    ? own
    : `${lineup.length} of ${figure.count(there, `${crop} product`)} in use`;
}

/** Products that placement rules keep out of some of the field. */
function keptOut({ placement }: Results): string[] {
  const out = new Set(
    (placement ?? []).flatMap((checks) =>
      checks.flatMap(({ verdict }, product) => (verdict === 'not here' ? [product] : [])),
    ),
  );
  return out.size === 0 ? [] : [`${out.size} kept out of some zones`];
}

/** What a stop holds, or what it still needs, in words. */
export function stopSentence(stop: StopId, results: Results, plan: Plan): StopSays {
  const settled = (text: string): StopSays => ({ state: 'settled', text });
  const needs = (text: string): StopSays => ({ state: 'needs you', text });
  const later = (text: string): StopSays => ({ state: 'not begun', text });
  const { field, soils, yields, layers, zoning, lineup, choices, ledger } = results;
  switch (stop) {
    case 'field': {
      if (!field) return needs('no boundary that can be used');
      const holes = field.region.reduce((sum, polygon) => sum + polygon.holes.length, 0);
      const parts = field.region.length > 1 ? `, ${field.region.length} parts` : '';
      const kept = holes === 0 ? '' : `, ${holes === 1 ? 'one hole' : `${holes} holes`} kept out`;
      return settled(
        `${figure.acres(field.acres)} acres${parts}${kept}, rows at ${figure.whole(field.grid.heading_deg)}°`,
      );
    }
    case 'evidence': {
      if (!field) return later('waits for a boundary');
      const used = yields.filter((layer) => layer.use);
      const unusual = used.filter((layer) => layer.unusual).length;
      const years = [
        figure.count(yields.length, 'year'),
        `${used.length} used`,
        ...(unusual > 0 ? [`${unusual} called unusual`] : []),
      ];
      const held = [
        soils ? 'soils' : '',
        yields.length ? years.join(', ') : '',
        layers.length ? figure.count(layers.length, 'other layer') : '',
      ].filter(Boolean);
      const open = openReadings(results, plan);
      if (open > 0) return needs([`${figure.count(open, 'question')} for you`, ...held].join('; '));
      return held.length ? settled(held.join('; ')) : needs('no yield map and no soils');
    }
    case 'zones':
      if (!zoning) return later('waits for evidence');
      return settled(
        `${figure.count(zoning.zones.length, 'zone')} by ${plan.zones.method === 'natural-breaks' ? 'natural breaks' : 'fuzzy c-means'}`,
      );
    case 'lineup':
      if (plan.lineup === null) return needs('no lineup');
      return lineup.length
        ? settled([lineupText(results, plan), ...keptOut(results)].join('; '))
        : needs(`no ${plan.crop} product that can be used`);
    case 'rates': {
      if (!choices)
        return plan.money.grainPrice_perBu === null && lineup.length
          ? needs('no grain price')
          : zoning && lineup.length
            ? needs('what was found keeps rates from being set')
            : later(zoning ? 'waits for a lineup' : 'waits for zones and a lineup');
      const used = new Set(choices.map((choice) => choice.chosen.product)).size;
      return settled(`${figure.count(used, 'product')} in ${figure.count(plan.rates.hoppers, 'hopper')}`);
    }
    case 'review':
      return later(ledger ? 'figures ready; the page is not built yet' : 'waits for your rates');
    case 'hand-off':
      return later(ledger ? 'ready to be written and proved' : 'waits for your rates');
  }
}
