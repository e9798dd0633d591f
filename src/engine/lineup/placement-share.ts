import { type GroundFacts, type GroundFigure, type GroundSoil, sameName } from './ground-facts.ts';
import type { PlacementCondition } from './placement-rule.ts';

/** A layer known on less of the ground than this tells nothing of it. Our own choice, the same as for cells. */
const LEAST_KNOWN = 0.5;
/** A share less than this that no soil covers is slivers between polygons, not a gap. Our own choice. */
const NO_GAP = 0.001;

/** On how much of the ground conditions hold, 0–1: on `atLeast` as far as known, on `atMost` if all that is not known met them. */
export interface HeldShare {
  readonly atLeast: number;
  readonly atMost: number;
  /** What the ground is in this, in words; empty where nothing is known. */
  readonly said: readonly string[];
  /** What was asked and could not be looked at, in words. */
  readonly notKnown: readonly string[];
}

type NumberCondition = Extract<PlacementCondition, { on: 'environment' | 'layer' }>;
type SoilCondition = Extract<PlacementCondition, { on: 'soil' | 'soil attribute' }>;

/** On how much of the ground all conditions hold together. Figures and zones are of the ground as a whole; soils by the share that meets every condition on soils. */
export function heldShare(where: readonly PlacementCondition[], facts: GroundFacts): HeldShare {
  const soils = where.filter((own): own is SoilCondition => own.on === 'soil' || own.on === 'soil attribute');
  const parts = where.flatMap((own): HeldShare[] => {
    if (own.on === 'environment' || own.on === 'layer') return [figureShare(own, facts)];
    if (own.on === 'zone') return [zoneShare(own.anyOf, facts.zone)];
    return [];
  });
  if (soils.length > 0) parts.push(soilShare(soils, facts.soils));
  return {
    atLeast: Math.min(1, ...parts.map(({ atLeast }) => atLeast)),
    atMost: Math.min(1, ...parts.map(({ atMost }) => atMost)),
    said: parts.flatMap(({ said }) => said),
    notKnown: [...new Set(parts.flatMap(({ notKnown }) => notKnown))],
  };
}

function zoneShare(anyOf: readonly string[], zone: string): HeldShare {
  const share = anyOf.some((name) => sameName(name, zone)) ? 1 : 0;
  return { atLeast: share, atMost: share, said: [`this is ${zone}`], notKnown: [] };
}

function figureShare(condition: NumberCondition, facts: GroundFacts): HeldShare {
  const name = condition.on === 'environment' ? 'yield environment' : condition.layer;
  const unknown = (why: string): HeldShare => ({ atLeast: 0, atMost: 1, said: [], notKnown: [why] });
  const figure = condition.on === 'environment' ? environmentFigure(facts) : figureNamed(name, facts.figures);
  if (!figure) return unknown(name);
  if (!(figure.knownShare >= LEAST_KNOWN) || Number.isNaN(figure.mean))
    return unknown(
      figure.knownShare > 0 ? `${name} (known on only ${percent(figure.knownShare)} of it)` : name,
    );
  const asked = condition.on === 'layer' ? condition.unit : '';
  if (asked !== '' && figure.unit !== '' && !sameName(asked, figure.unit))
    return unknown(`${name} in ${asked} (the layer is in ${figure.unit})`);
  const { from, to } = condition;
  const share = (from === null || figure.mean >= from) && (to === null || figure.mean <= to) ? 1 : 0;
  const unit = figure.unit || asked;
  const part = figure.knownShare < 0.995 ? ` where known, ${percent(figure.knownShare)} of it` : '';
  const said = `${name} ${toldApart(figure.mean, [from, to])}${unit ? ` ${unit}` : ''}${part}`;
  return { atLeast: share, atMost: share, said: [said], notKnown: [] };
}

function environmentFigure({ environment_buPerAc: mean }: GroundFacts): GroundFigure {
  return { name: 'yield environment', unit: 'bu/ac', mean, knownShare: Number.isNaN(mean) ? 0 : 1 };
}

function figureNamed(name: string, figures: readonly GroundFigure[]): GroundFigure | undefined {
  const own = figures.filter((figure) => sameName(figure.name, name));
  return own.find(({ knownShare }) => knownShare >= LEAST_KNOWN) ?? own[0];
}

/** The figure to a tenth, or finer where that would not tell it from an end it is not. */
function toldApart(value: number, ends: readonly (number | null)[]): string {
  for (let digits = 1; digits <= 6; digits++) {
    const text = String(Number(value.toFixed(digits)));
    if (ends.every((end) => end === null || end === value || Number(text) !== end)) return text;
  }
  return String(value);
}

function soilShare(conditions: readonly SoilCondition[], soils: readonly GroundSoil[]): HeldShare {
  let held = 0;
  let open = 0;
  let mapped = 0;
  const notKnown = new Set<string>();
  const said = new Map<string, number>();
  for (const soil of soils) {
    mapped += soil.share;
    const words = conditions.map((condition) =>
      condition.on === 'soil' ? soil.name : wordUnder(condition.attribute, soil),
    );
    const meets = (k: number) => conditions[k].anyOf.some((name) => sameName(name, words[k] ?? ''));
    if (words.some((word, k) => word !== null && !meets(k))) continue;
    if (words.some((word) => word === null)) {
      open += soil.share;
      for (const [k, word] of words.entries()) if (word === null) notKnown.add(asked(conditions[k]));
      continue;
    }
    held += soil.share;
    const text = words.join(' and ');
    said.set(text, (said.get(text) ?? 0) + soil.share);
  }
  const gap = 1 - mapped;
  if (gap > NO_GAP) {
    open += gap;
    const names = conditions.map(asked).join(' and ');
    notKnown.add(soils.length === 0 ? names : `${names} (no soil is mapped on ${percent(gap)} of it)`);
  }
  return {
    atLeast: held,
    atMost: Math.min(1, held + open),
    said: [...said].map(([text, share]) => `${text} on ${percent(share)} of it`),
    notKnown: [...notKnown],
  };
}

function wordUnder(attribute: string, { words }: GroundSoil): string | null {
  for (const [column, word] of words) if (sameName(column, attribute)) return word;
  return null;
}

function asked(condition: SoilCondition): string {
  return condition.on === 'soil' ? 'soil map unit' : condition.attribute;
}

function percent(share: number): string {
  const text = (100 * share).toFixed(0);
  return text === '0' ? 'less than 1 %' : `${text} %`;
}
