/** What the number of a data dictionary entity (ISO 11783-11) stands for. */
export interface Entity {
  /** The name of a column, its unit last. */
  readonly label: string;
  readonly unit: string;
  /** From the whole number in the file to the unit. */
  readonly scale: number;
  /** Rates and contents are never under zero. */
  readonly negative: boolean;
}

const M2_PER_ACRE = 4046.8564224;
/** 1 mg/m² is 0.01 kg/ha, 0.01 mm³/m² are 0.0001 l/ha, 0.001 pieces/m² are 4.0468564224 an acre. */
const KG_HA = 0.01;
const SEEDS_AC = M2_PER_ACRE / 1000;

/** Blocks of five: setpoint, actual, default, minimum, maximum. Numbers, units and steps as the public dictionary states them. */
const BLOCKS: readonly (readonly [first: number, what: string, unit: string, scale: number])[] = [
  [0x0001, 'rate', 'l/ha', 0.0001],
  [0x0006, 'rate', 'kg/ha', KG_HA],
  [0x000b, 'rate', 'seeds/ac', SEEDS_AC],
  [0x0010, 'spacing', 'mm', 1],
  [0x0038, 'depth', 'mm', 1],
];
const PLACES = ['', 'actual ', 'default ', 'minimum ', 'maximum '];

const SINGLE: readonly (readonly [ddi: number, what: string, unit: string, scale: number])[] = [
  [0x0043, 'actual width', 'mm', 1],
  [0x0050, 'total', 'l', 1],
  [0x0051, 'total', 'kg', 1],
  [0x0052, 'total count', '', 1],
  [0x0053, 'yield', 'l/ha', 10],
  [0x0054, 'yield', 'kg/ha', KG_HA],
  [0x0055, 'yield count', '1/ac', SEEDS_AC],
  [0x0059, 'total yield', 'l', 1],
  [0x005a, 'total yield', 'kg', 1],
  [0x0063, 'moisture', 'pct', 0.0001],
  [0x0074, 'total area', 'm2', 1],
  [0x0086, 'offset x', 'mm', 1],
  [0x0087, 'offset y', 'mm', 1],
  [0x00b5, 'dry yield', 'kg/ha', KG_HA],
  [0x00b8, 'reference moisture', 'pct', 0.0001],
];

/** The entity of a number; null for one that is not in our table, whose figures have no unit then. */
export function entityOf(ddi: number): Entity | null {
  const block = BLOCKS.find(([first]) => ddi >= first && ddi < first + 5);
  if (block) return entity(`${PLACES[ddi - block[0]]}${block[1]}`, block[2], block[3]);
  const single = SINGLE.find(([own]) => own === ddi);
  return single ? entity(single[1], single[2], single[3]) : null;
}

function entity(what: string, unit: string, scale: number): Entity {
  const label = unit === '' ? what : `${what} ${unit}`;
  return { label, unit, scale, negative: what.startsWith('offset') };
}

/** Units as value presentations write them: what one of our units is in them. */
const SHOWN: Readonly<Record<string, readonly (readonly [RegExp, number])[]>> = {
  'kg/ha': [
    [/^kg\/ha$/i, 1],
    [/^t\/ha$/i, 0.001],
    [/^g\/m(2|²)$/i, 0.1],
    [/^lbs?\/ac(re)?$/i, M2_PER_ACRE / 4535.9237],
  ],
  'l/ha': [
    [/^l\/ha$/i, 1],
    [/^ml\/m(2|²)$/i, 0.1],
  ],
  'seeds/ac': [
    [/^(seeds?|sds?)\/ac(re)?$/i, 1],
    [/^ks(eeds)?\/ac(re)?$/i, 0.001],
    [/^((seeds?|sds?)\/|1\/|\/)m(2|²)$/i, 1 / M2_PER_ACRE],
    [/^((seeds?|sds?)\/|1\/|\/)ha$/i, 10000 / M2_PER_ACRE],
  ],
};

/**
 * What a value presentation should multiply by for its unit text, null when that text is not known here.
 * A presentation is for showing only: the entity's own unit and step are what counts.
 */
export function scaleShown({ unit, scale }: Entity, text: string): number | null {
  const known = SHOWN[unit]?.find(([pattern]) => pattern.test(text.trim()));
  return known ? scale * known[1] : null;
}
