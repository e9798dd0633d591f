import { unitInWords } from '../../engine/harvest/recognise/unit-in-words.ts';
import type { YieldUnit } from '../../engine/harvest/yield-unit.ts';
import { bracketed, headerText } from './header-text.ts';

/** What a file says of a unit: its words, and the units they can mean (none: a unit that is not known here); null where it says nothing. */
export type UnitTold<U extends string> = { readonly said: string; readonly units: readonly U[] } | null;

/** Units of yields, the likelier first. */
export const KNOWN_YIELD_UNITS = [
  'bu/ac',
  'kg/ha',
  't/ha',
  'lb/ac',
  'q/ha',
  'g/m2',
  'ton/ac',
] as const satisfies readonly YieldUnit[];
export type KnownYieldUnit = (typeof KNOWN_YIELD_UNITS)[number];

/** What a yield may also be over; none of it is an area. */
const OTHER = /_(hills?|pots?|plants?|plots?|ears?|heads?|rows?|parcelle|parzelle)_/;

/** A hundred kilograms in Danish is no unit of its own; nor is dry matter. */
function plainly(text: string): string {
  return text.replace(/\bhkg\b/gi, 'q').replace(/\b(DM|MS|TM|TS|DS)\b\s*(?=\/|ha\b|per\b)/gi, ' ');
}

export function yieldUnitTold(name: string, stated: string | undefined): UnitTold<KnownYieldUnit> {
  const own = stated !== undefined && /\p{L}/u.test(stated) ? stated.trim() : undefined;
  const unit = unitInWords('yield', plainly(name), own && plainly(own));
  if (unit) return { said: own ?? name, units: [unit.unit as KnownYieldUnit] };
  if (own !== undefined) return { said: own, units: [] };
  const unread = bracketed(name);
  if (unread !== null && /^[^\d%]*\/|[⁻-]1$/.test(unread)) return { said: unread, units: [] };
  return OTHER.test(headerText(name)) ? { said: name, units: [] } : null;
}
