import type { Column } from '../../engine/layers/source.ts';
import { textColumnOf } from '../text-column.ts';
import type { Zone, ZoneValue } from './zones.ts';

/**
 * What zones ask for, spread over records: `zoneOf` gives the index of each record's zone. Zone code and name, then for each
 * entity (and again for each further time a zone has it) the rate and, where any is named, the product.
 */
export function zoneColumns(zones: readonly Zone[], zoneOf: ArrayLike<number>): Column[] {
  const columns: Column[] = [numbers('zone', zones, zoneOf, ({ code }) => code)];
  if (zones.some(({ name }) => name !== '')) {
    columns.push(texts('zone name', zones, zoneOf, ({ name }) => name || null));
  }
  for (const [label, valueIn] of slotsOf(zones)) {
    columns.push(numbers(label, zones, zoneOf, (zone) => valueIn(zone)?.value ?? Number.NaN));
    if (zones.some((zone) => valueIn(zone)?.product != null)) {
      columns.push(texts('product', zones, zoneOf, (zone) => valueIn(zone)?.product ?? null));
    }
  }
  return columns;
}

function slotsOf(zones: readonly Zone[]): [label: string, (zone: Zone) => ZoneValue | undefined][] {
  const slots = new Map<string, [string, (zone: Zone) => ZoneValue | undefined]>();
  for (const zone of zones) {
    const times = new Map<string, number>();
    for (const { ddi, entity } of zone.values) {
      const time = times.get(ddi) ?? 0;
      times.set(ddi, time + 1);
      slots.set(`${ddi} ${time}`, [
        entity.label,
        ({ values }) => values.filter((value) => value.ddi === ddi)[time],
      ]);
    }
  }
  return [...slots.values()];
}

function numbers(
  name: string,
  zones: readonly Zone[],
  zoneOf: ArrayLike<number>,
  valueIn: (zone: Zone) => number,
): Column {
  const each = zones.map(valueIn);
  const values = new Float64Array(zoneOf.length);
  for (let i = 0; i < values.length; i++) values[i] = each[zoneOf[i]];
  return { name, kind: 'number', values };
}

function texts(
  name: string,
  zones: readonly Zone[],
  zoneOf: ArrayLike<number>,
  textIn: (zone: Zone) => string | null,
): Column {
  const { codes, levels } = textColumnOf(name, zones.map(textIn));
  const spread = new Int32Array(zoneOf.length);
  for (let i = 0; i < spread.length; i++) spread[i] = codes[zoneOf[i]];
  return { name, kind: 'text', codes: spread, levels };
}
