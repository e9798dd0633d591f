import { M_PER_FT, M2_PER_ACRE } from '../../engine/math/units.ts';
import { bracketed, headerText } from './header-text.ts';
import type { UnitTold } from './unit-told.ts';

/** Units plants (or seeds) over an area come in, the likelier first. */
export const STAND_UNITS = [
  'plants/ac',
  'plants/ha',
  '1000/ac',
  '1000/ha',
  'plants/m2',
  'plants/ft2',
] as const;

export type StandUnit = (typeof STAND_UNITS)[number];

/** Plants/ac in one of the unit. */
export const PER_ACRE: Readonly<Record<StandUnit, number>> = {
  'plants/ac': 1,
  'plants/ha': M2_PER_ACRE / 10_000,
  '1000/ac': 1000,
  '1000/ha': M2_PER_ACRE / 10,
  'plants/m2': M2_PER_ACRE,
  'plants/ft2': M2_PER_ACRE / (M_PER_FT * M_PER_FT),
};

export function isStandUnit(unit: string): unit is StandUnit {
  return (STAND_UNITS as readonly string[]).includes(unit);
}

const ACRE = /_(ac|acres?)_|_(k|1000|plants?|seeds?|pop)_?a_|_k?(plants?|seeds?|sds?)_?ac_|^_ppa_$/;
const HECTARE = /_(ha|hectares?|hectareas?|hektar|hektare)_|_k(plants?|seeds?)_?ha_/;
const SQUARE_METRE = /_m_?2_|_(sq|square)_(m|met(er|re)s?)_|_qm_|_metros?_cuadrados?_|_metres?_carres?_/;
const SQUARE_FOOT = /_(ft|feet|foot)_?2_|_(sq|square)_(ft|feet|foot)_/;
const THOUSANDS =
  /_(k|0{3}s?|x?_?10{3}s?|ths|thousands?|thsd|tsd|tausend|kp|ks|kpl|milles?|milliers|miles|duizend|tusind)_|_1_1000_|_k(plants?|seeds?|sds?)/;
const WEIGHT = /_(kg|kgs|lbs?|pounds?|g|gr|bu|bushels?)_/;
/** Over what is no area that is known here. */
const OTHER = /_(hills?|pots?|rows?|plots?|holes?|parcelle|parzelle|pct)_/;

/** Plants or seeds along so much of a row. */
const COUNTED =
  /_(?:plants?|seeds?|sds?|pop|population|stands?|count|pfl|pflanzen|korner|plantes|pieds|graine?s?|plantas|semillas|planten|zaden|planter)_(?:in_|je_|auf_)?(?:(?<whole>\d+)_(?:(?<part>\d+)_)?)?(?:row_|linear_|lin_|lfd_|laufende[rn]?_|running_)?(?<unit>ft|feet|foot|m|met(?:er|re)s?|metros?|lfm|lm)_/;

/** What name and stated unit say of the unit of a stand or a seeding rate: those it can be. */
export function standUnitTold(name: string, stated: string | undefined): UnitTold<StandUnit> {
  for (const text of [stated, name]) {
    if (text === undefined || !/[\p{L}\d]/u.test(text)) continue;
    const words = headerText(text);
    const area = areaOf(words);
    const thousands = THOUSANDS.test(words);
    if (WEIGHT.test(words) || (area === null && OTHER.test(words))) return { said: text, units: [] };
    if (area !== null) return { said: text, units: [thousands ? THOUSAND_OF[area] : area] };
    if (thousands) return { said: text, units: ['1000/ac', '1000/ha'] };
    if (metresCounted(name, stated) !== null) return { said: text, units: [] };
    const unread = text === stated ? stated : bracketed(name);
    if (unread !== null && /[/\d]/.test(unread)) return { said: unread, units: [] };
  }
  return null;
}

const THOUSAND_OF: Readonly<Record<string, StandUnit>> = {
  'plants/ac': '1000/ac',
  'plants/ha': '1000/ha',
  'plants/m2': 'plants/m2',
  'plants/ft2': 'plants/ft2',
};

/** Metres of row a stand or a seeding rate is counted in, as `seeds per foot` or `plants in 17.4 ft` says; null for one over an area or without a word. */
export function metresCounted(name: string, stated: string | undefined): number | null {
  for (const text of [stated === undefined ? undefined : `plants ${stated}`, name]) {
    if (text === undefined || areaOf(headerText(text)) !== null) continue;
    const counted = COUNTED.exec(headerText(text))?.groups;
    if (!counted) continue;
    const { whole, part = '0', unit } = counted;
    const length = whole === undefined ? 1 : Number(`${whole}.${part}`);
    return length * (/^f/.test(unit) ? M_PER_FT : 1);
  }
  return null;
}

function areaOf(words: string): StandUnit | null {
  if (SQUARE_METRE.test(words)) return 'plants/m2';
  if (SQUARE_FOOT.test(words)) return 'plants/ft2';
  if (HECTARE.test(words)) return 'plants/ha';
  return ACRE.test(words) ? 'plants/ac' : null;
}
