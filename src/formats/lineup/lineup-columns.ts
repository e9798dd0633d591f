import { headerText } from '../trials/header-text.ts';
import { roleNamed } from '../trials/trial-words.ts';

/** What the columns of a lineup can mean; others are ratings, by what they rate. */
export type LineupRole =
  | 'id'
  | 'name'
  | 'brand'
  | 'crop'
  | 'maturity'
  | 'gdd'
  | 'seeds'
  | 'price'
  | 'treatments'
  | 'traits'
  | 'stature'
  | 'notes'
  | 'meter notes'
  | 'stewardship notes';

/** On the name as `headerText` gives it, the first that fits. Common in the trade; no source lists them. */
const WORDS: readonly (readonly [LineupRole, RegExp])[] = [
  ['id', /^_(product_)?(id|code)_$/],
  ['gdd', /_gdds?_|_gdus?_|degree_days|heat_units/],
  ['maturity', /maturity|^_(c?rm|mg|fao)_$|^_reifezahl_$|^_reifegruppe_$|^_precocite_$|^_madurez_$/],
  [
    'seeds',
    /_(seeds?|kernels?)_(in_a_|a_)?(unit|bag|pack)_|^_unit_size_$|_korner_(je_)?(einheit|sack|packung)_|_grains_(unite|dose|sac)_|_semillas_(bolsa|unidad)_|_zaden_(in_)?(zak|eenheid)_/,
  ],
  ['price', /price|^_cost(_(unit|bag))?_$|_preis_|_prix_|_precio_|_prijs_|_pris_/],
  ['treatments', /^_(seed_)?treatments?_$|^_(saat)?beizung(en)?_$|^_traitements?_$|^_tratamientos?_$/],
  ['traits', /^_traits?_$/],
  ['stature', /^_stature_$/],
  ['meter notes', /^_(planter_)?meter(_notes?)?_$/],
  ['stewardship notes', /^_stewardship(_notes?)?_$/],
  [
    'notes',
    /^_(notes?|comments?|remarks?|bemerkung(en)?|remarques?|observaciones|opmerkingen|description)_$/,
  ],
];

export function lineupRole(name: string): LineupRole | null {
  if (ratedBy(name) !== null) return null;
  const words = headerText(name);
  const own = WORDS.find(([, is]) => is.test(words));
  if (own) return own[0];
  const role = roleNamed(name)?.role;
  if (role === 'product') return 'name';
  return role === 'brand' || role === 'crop' ? role : null;
}

/** What a column that says it is a rating rates: `rating: drought`; null for another. */
export function ratedBy(name: string): string | null {
  const match = /^\s*rating\s*:\s*(.*\S)\s*$/i.exec(name);
  return match ? match[1] : null;
}
