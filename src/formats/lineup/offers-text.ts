import type { Trait, Treatment } from '../../engine/lineup/product.ts';
import { listOf, listText } from './list-text.ts';
import { isName } from './name-rule.ts';
import { priceOf } from './price-text.ts';

/** Treatments in a cell: `Marsh Coat = 12.50 (seedling blight); Reed Guard = 3`. */
export function treatmentsOf(cell: string): { treatments: Treatment[]; unpriced: string[] } {
  const treatments: Treatment[] = [];
  const unpriced: string[] = [];
  for (const { name, value, inside } of listOf(cell)) {
    const price = priceOf(value);
    if (typeof price === 'number' && price >= 0 && Number.isFinite(price) && isName(name))
      treatments.push({ name, pricePerUnit: price, protectsAgainst: inside });
    else unpriced.push(name.slice(0, 60));
  }
  return { treatments, unpriced };
}

export function treatmentsText(treatments: readonly Treatment[]): string {
  return listText(
    treatments.map(({ name, pricePerUnit, protectsAgainst }) => ({
      name,
      value: String(pricePerUnit),
      inside: protectsAgainst,
    })),
  );
}

const REFUGE = /^(\d+(?:\.\d+)?(?:e-?\d+)?)\s*(%?)\s*(blended|separate)$/i;

/** Traits in a cell, each with the refuge its agreement asks for: `Fen Guard = 5 % blended (as the label says); Lodge Stay`. */
export function traitsOf(cell: string): { traits: Trait[]; unclear: string[] } {
  const traits: Trait[] = [];
  const unclear: string[] = [];
  for (const { name, value, inside } of listOf(cell)) {
    if (!isName(name)) {
      unclear.push(name.slice(0, 60));
      continue;
    }
    const match = REFUGE.exec(value);
    const share = match ? Number(match[1]) / (match[2] === '%' ? 100 : 1) : Number.NaN;
    const note = inside.join(', ');
    const refuge =
      match && share <= 1 && note.length <= 400
        ? { share, kind: match[3].toLowerCase() as 'blended' | 'separate', note }
        : null;
    if (value !== '' && !refuge) unclear.push(name);
    traits.push({ name, refuge });
  }
  return { traits, unclear };
}

export function traitsText(traits: readonly Trait[]): string {
  return listText(
    traits.map(({ name, refuge }) => ({
      name,
      value: refuge ? `${refuge.share} ${refuge.kind}` : '',
      inside: refuge && refuge.note !== '' ? [refuge.note] : [],
    })),
  );
}
