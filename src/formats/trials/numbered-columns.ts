import type { Column } from '../../engine/layers/source.ts';
import { headerText } from './header-text.ts';
import type { Across } from './trial-options.ts';
import { roleNamed } from './trial-words.ts';

/** Columns called alike but for a number, each by its number as written, a k of thousands apart. */
export interface NumberedColumns {
  readonly columns: readonly Column[];
  readonly numbers: readonly string[];
  readonly thousands: boolean;
  /** The name with `…` in place of the number. */
  readonly stem: string;
}

const NUMBER = /(\d[\d,]*(?:\.\d+)?)/;

/** Groups of two or more columns whose names differ in one number alone: `Yield at 22k`, `Yield at 27k`. */
export function numberedColumns(columns: readonly Column[]): NumberedColumns[] {
  const groups = new Map<string, { column: Column; parts: readonly string[] }[]>();
  for (const column of columns) {
    const parts = column.name.split(NUMBER);
    if (parts.length < 3) continue;
    const words = parts.filter((_, k) => k % 2 === 0);
    const key = words.join('\u0001').toLowerCase().replace(/\s+/g, ' ');
    groups.set(key, [...(groups.get(key) ?? []), { column, parts }]);
  }
  return [...groups.values()].flatMap((group) => {
    const [{ parts }] = group;
    const varying = parts.flatMap((own, k) =>
      k % 2 === 1 && group.some((other) => other.parts[k] !== own) ? [k] : [],
    );
    const numbers = group.map((own) => own.parts[varying[0]]?.replaceAll(',', ''));
    if (varying.length !== 1 || new Set(numbers).size < group.length) return [];
    const [at] = varying;
    const thousands = /^\s*k\b/i.test(parts[at + 1]);
    const after = thousands ? parts[at + 1].replace(/^\s*k/i, '') : parts[at + 1];
    const stem = [...parts.slice(0, at), '…', after, ...parts.slice(at + 2)].join('').trim();
    return [{ columns: group.map(({ column }) => column), numbers, thousands, stem }];
  });
}

/** What a group may stand for, the likelier first; none where its words are of something else. */
export function meaningsOf({ numbers, thousands, stem }: NumberedColumns): readonly Across[] {
  const words = headerText(stem);
  const values = numbers.map(Number);
  if (!values.every(Number.isInteger)) return [];
  const named = MEANINGS.find(([, is]) => is.test(words));
  const others = (named ? words.replace(new RegExp(named[1], 'g'), '') : words).replace(EVERYDAY, '');
  // Without a yield in the name there must be nothing else in it, as moisture or height.
  if (!isYield(stem) && /[a-z]/.test(others)) return [];
  if (named) {
    const counts = named[0] === 'stand' || named[0] === 'rate';
    return counts && !thousands && Math.min(...values) < LEAST_STAND ? [] : [named[0]];
  }
  if (thousands) return ['stand', 'rate'];
  if (values.every((own) => own >= 1950 && own < 2100)) return ['year'];
  if (Math.min(...values) >= LEAST_STAND) {
    if (Math.max(...values) >= 100) return ['stand', 'rate'];
    // 22, 23, 24 are years as like as not; 22, 27, 32 thousands of plants.
    const sorted = values.toSorted((a, b) => a - b);
    return sorted.every((own, k) => k === 0 || own - sorted[k - 1] === 1)
      ? ['year', 'stand', 'rate']
      : ['stand', 'rate', 'year'];
  }
  const counted = values.every((own, k) => own === k + 1);
  return counted && isYield(stem) ? ['rep', 'site'] : [];
}

/** Below it a number is none of plants, in no unit. */
const LEAST_STAND = 10;

function isYield(stem: string): boolean {
  return roleNamed(stem)?.role === 'yield';
}

/** Whole words, as `headerText` gives them; the first that a name has tells. */
const MEANINGS: readonly (readonly [Across, RegExp])[] = [
  ['year', word('years?|yr|seasons?|jahr|annee|ano|jaar')],
  ['rep', word('r|reps?|replic[a-z]*|wdh|wiederholung|repet[a-z]*|blocks?|bloc|plots?')],
  [
    'site',
    word('sites?|loc|locations?|env|environments?|farm|field|county|ort|standort|lieu|localidad|trial'),
  ],
  [
    'product',
    word('products?|hybrids?|variet(y|ies)|entry|entries|cultivar|sorte|hybride|variete|hibrido|variedad'),
  ],
  ['rate', word('seed[a-z]*|sown|plant(ed|ing)|drop[a-z]*|rates?|target')],
  ['stand', word('pop|population|stands?|plants?|density|ppa|pflanzen|plantes|plantas|planten')],
];

function word(words: string): RegExp {
  return new RegExp(`_(${words})(?=_)`);
}

/** What stands beside the number without telling what it is. */
const EVERYDAY =
  /_(at|for|in|of|with|the|bei|a|bu|bushels?|ac|acre|ha|kg|lbs?|t|dt|q|m2|x|pct|dry|grain|pop|population)(?=_)/g;
