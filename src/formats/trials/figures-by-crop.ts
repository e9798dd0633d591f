import type { Plausibility } from '../../engine/harvest/plausible-yield.ts';
import type { NumberColumn } from '../../engine/layers/source.ts';
import { median } from '../../engine/math/median.ts';
import type { RowCrops } from './crops-of-rows.ts';

/** By crop the median of what is above zero in a column; a crop without such a figure is left out. */
export function mediansByCrop({ values }: NumberColumn, crops: RowCrops): ReadonlyMap<string, number> {
  const figures = new Map<string, number[]>(crops.crops.map((crop) => [crop, []]));
  for (let i = 0; i < values.length; i++) if (values[i] > 0) figures.get(crops.of(i))?.push(values[i]);
  return new Map(
    [...figures].flatMap(([crop, own]) => (own.length > 0 ? [[crop, median(own)] as const] : [])),
  );
}

/** How figures sit that may be of several crops: implausible where they are for one of them. */
export function allOf(each: readonly Plausibility[]): Plausibility {
  if (each.includes('implausible')) return 'implausible';
  const known = each.filter((own) => own !== 'not told');
  if (known.length === 0) return 'not told';
  return known.every((own) => own === 'typical') ? 'typical' : 'unusual';
}
