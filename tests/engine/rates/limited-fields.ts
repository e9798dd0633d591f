import type { Random } from '../../../src/engine/math/random.ts';
import type { ProductRow } from '../../../src/engine/rates/assign-within.ts';
import type { ProductLimits } from '../../../src/engine/rates/product-limits.ts';

/** A field to be planted under limits. */
export interface Case {
  readonly rows: readonly ProductRow[];
  readonly area_ac: readonly number[];
  readonly hoppers: number;
  readonly limits: ProductLimits;
}

/** A field of made margins under made limits, some of which cannot be kept. */
export function anyCase(stream: Random, products: number, zones: number): Case {
  const area_ac = Array.from({ length: zones }, () => 5 + stream.integer(60));
  const acres = area_ac.reduce((sum, own) => sum + own, 0);
  const rows = Array.from({ length: products }, (_, product): ProductRow => {
    const open = area_ac.map(() => stream.uniform() < 0.9);
    const good = 20 * stream.normal();
    return {
      product: 10 + product,
      earns: Float64Array.from(area_ac, (own, k) =>
        open[k] ? own * (600 + good + 15 * stream.normal()) : -Infinity,
      ),
      seeds: Float64Array.from(area_ac, (own, k) =>
        open[k] ? own * (28_000 + 500 * stream.integer(12)) : 0,
      ),
    };
  });
  const some = () => 10 + stream.integer(products);
  return {
    rows,
    area_ac,
    hoppers: 1 + stream.integer(4),
    limits: {
      leastAcres: stream.uniform() < 0.5 ? stream.integer(40) : 0,
      mostAcres: stream.uniform() < 0.5 ? acres * (0.3 + 0.6 * stream.uniform()) : Infinity,
      mustUse: stream.uniform() < 0.3 ? [some()] : [],
      seedsOnHand: new Map(
        stream.uniform() < 0.6 ? [[some(), acres * 30_000 * stream.uniform()] as const] : [],
      ),
    },
  };
}

/** In the LP format: x is a product on a zone, u a product that is planted at all. */
export function programme({ rows, area_ac, hoppers, limits }: Case): string {
  const x = (row: number, zone: number) => `x${row}_${zone}`;
  const open = rows.flatMap(({ earns }, row) =>
    area_ac.flatMap((_, zone) => (earns[zone] > -Infinity ? [{ row, zone }] : [])),
  );
  const of = (row: number, weight: (zone: number) => number) =>
    open
      .filter((own) => own.row === row)
      .map(({ zone }) => `${weight(zone)} ${x(row, zone)}`)
      .join(' + ') || `0 u${row}`;
  const acres = area_ac.reduce((sum, own) => sum + own, 0);
  return [
    'Maximize',
    ` obj: ${open.map(({ row, zone }) => `${rows[row].earns[zone]} ${x(row, zone)}`).join(' + ')}`,
    'Subject To',
    ...area_ac.map((_, zone) => {
      const own = open.filter((at) => at.zone === zone);
      return ` one${zone}: ${own.map(({ row }) => x(row, zone)).join(' + ') || '0 u0'} = 1`;
    }),
    ` carried: ${rows.map((_, row) => `u${row}`).join(' + ')} <= ${hoppers}`,
    ...rows.flatMap(({ product, seeds }, row) => [
      ` most${row}: ${of(row, (zone) => area_ac[zone])} - ${Math.min(limits.mostAcres, acres)} u${row} <= 0`,
      // One planted at all has a zone, and its acres.
      ` some${row}: ${of(row, () => 1)} - 1 u${row} >= 0`,
      ` least${row}: ${of(row, (zone) => area_ac[zone])} - ${limits.leastAcres} u${row} >= 0`,
      ...(limits.seedsOnHand.has(product)
        ? [` seeds${row}: ${of(row, (zone) => seeds[zone])} <= ${limits.seedsOnHand.get(product)}`]
        : []),
      ...(limits.mustUse.includes(product) ? [` must${row}: u${row} = 1`] : []),
    ]),
    'Binary',
    ` ${[...open.map(({ row, zone }) => x(row, zone)), ...rows.map((_, row) => `u${row}`)].join(' ')}`,
    'End',
  ].join('\n');
}
