import type { NumberColumn } from '../../layers/source.ts';
import { plainCrop } from '../../math/crop-name.ts';
import { howPlausible } from '../plausible-yield.ts';
import type { YieldUnit } from '../yield-unit.ts';
import { type Look, POINTS, type UnitReading } from './meaning.ts';
import type { RoleUnit } from './role-units.ts';

/** Points for the figures of a yield in a unit: how its median sits with the crop. */
export function scoreYield(column: NumberColumn, unit: RoleUnit, look: Look): UnitReading {
  const { p50 } = look.sample.figures(column);
  if (Number.isNaN(p50)) return { unit, points: 0, usual: 0, because: ['no figures above zero'] };
  const plausible = howPlausible(p50, unit.unit as YieldUnit, look.crop);
  const usual = { typical: 1, unusual: 0.5, implausible: 0, 'not told': 0.5 }[plausible];
  const because =
    plausible === 'not told'
      ? []
      : [`figures ${plausible === 'typical' ? 'plausible' : plausible} for ${look.crop} in ${unit.unit}`];
  return { unit, points: POINTS.figures * usual, usual, because };
}

/** Rates of seed, seeds/m²: hardly ever outside the outer pair, mostly inside the inner; and kg/m². Common practice, no source. */
const SEEDS_PER_M2: Readonly<Record<string, readonly [number, number, number, number]>> = {
  corn: [2.5, 4.5, 11.5, 14],
  soybean: [10, 18, 52, 70],
  wheat: [80, 150, 500, 650],
  barley: [80, 150, 450, 600],
  oats: [80, 150, 450, 600],
};
const KG_PER_M2: Readonly<Record<string, readonly [number, number, number, number]>> = {
  corn: [0.0008, 0.0011, 0.0035, 0.005],
  soybean: [0.003, 0.0045, 0.011, 0.015],
  wheat: [0.003, 0.005, 0.02, 0.03],
  barley: [0.003, 0.005, 0.02, 0.03],
  oats: [0.003, 0.005, 0.02, 0.03],
};

/** Points for the figures of a rate in a unit, by what is planted of the crop. */
export function scoreRate(column: NumberColumn, unit: RoleUnit, look: Look): UnitReading {
  const { p50 } = look.sample.figures(column);
  const ranges = unit.unit.startsWith('lb') || unit.unit.startsWith('kg') ? KG_PER_M2 : SEEDS_PER_M2;
  const crop = plainCrop(look.crop);
  if (Number.isNaN(p50)) return { unit, points: 0, because: ['no figures above zero'] };
  if (!Object.hasOwn(ranges, crop)) return { unit, points: POINTS.figures / 2, because: [] };
  const [least, low, high, most] = ranges[crop];
  const value = p50 * unit.scale;
  const share = value >= low && value <= high ? 1 : value >= least && value <= most ? 0.5 : 0;
  const word = share === 1 ? 'plausible' : share > 0 ? 'unusual' : 'implausible';
  return {
    unit,
    points: POINTS.figures * share,
    because: [`figures ${word} for ${look.crop} in ${unit.unit}`],
  };
}
