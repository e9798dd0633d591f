import { beforeAll, describe, expect, it } from 'vitest';
import { environmentOf } from '../../sample-fields/generator/ground.ts';
import { FIELDS } from '../../sample-fields/generator/sample-fields.ts';
import { CROPS, TRUE_PRODUCTS, type TrueProduct } from '../../sample-fields/generator/true-products.ts';
import { toFrame, toLonLat } from '../../src/engine/geodesy/field-frame.ts';
import type { RatedProduct } from '../../src/engine/lineup/product.ts';
import { sampleOnDesk } from '../browser/in-process.ts';

/** A piece of ground as it truly is. */
interface Patch {
  readonly environment: number;
  readonly area: number;
}

interface Seeded {
  readonly product: number;
  readonly seedsPerAc: number;
}

const STEP = 500;

describe.each(FIELDS)('$folder, by what is true of its ground and its products', (design) => {
  let sample: Awaited<ReturnType<typeof sampleOnDesk>>;
  let zones: Patch[][];
  let products: { rated: RatedProduct; truth: TrueProduct }[];
  beforeAll(async () => {
    sample = await sampleOnDesk(design.folder);
    const { field, zoning, lineup } = sample.results;
    const { grid, frame } = field!;
    const { lon, lat } = toLonLat(frame, grid.x, grid.y);
    const { x, y } = toFrame(design.centre, lon, lat);
    const [sin, cos] = [Math.sin, Math.cos].map((of) => of((design.heading_deg * Math.PI) / 180));
    const environment = environmentOf(design.ground);
    zones = zoning!.zones.map(() => []);
    zoning!.label.forEach((zone, k) => {
      zones[zone].push({
        environment: environment(x[k] * cos - y[k] * sin, x[k] * sin + y[k] * cos),
        area: grid.area[k],
      });
    });
    products = lineup.map((rated) => ({ rated, truth: TRUE_PRODUCTS.find(({ id }) => id === rated.id)! }));
  }, 60_000);

  const areaOf = (patches: readonly Patch[]) => patches.reduce((sum, { area }) => sum + area, 0);

  /** Dollars an acre over seed. */
  function earned(patches: readonly Patch[], { product, seedsPerAc }: Seeded): number {
    const { rated, truth } = products[product];
    const { money, rates } = sample.plan;
    const seed = (seedsPerAc * rated.pricePerUnit) / rated.seedsPerUnit;
    const stand_k = (seedsPerAc * rates.emergence) / 1000;
    const bushels = patches.reduce((sum, { environment, area }) => {
      const away = environment - CROPS[truth.crop].reference_buPerAc;
      const off = stand_k - truth.optimum_k - truth.optimumPerEnvironment_k * away;
      const grown = truth.yield_buPerAc + truth.yieldPerEnvironment * away - truth.curvature * off * off;
      return sum + area * grown;
    }, 0);
    return (bushels / areaOf(patches)) * money.grainPrice_perBu! - seed;
  }

  /** The rate of a product that earns most, of all the steps its trials were within. */
  function best(patches: readonly Patch[], product: number): Seeded & { dollars: number } {
    const { min, max } = products[product].rated.tested_plantsPerAc!;
    const { emergence } = sample.plan.rates;
    let found = { product, seedsPerAc: NaN, dollars: -Infinity };
    for (
      let seedsPerAc = STEP * Math.ceil(min / emergence / STEP);
      seedsPerAc * emergence <= max;
      seedsPerAc += STEP
    ) {
      const dollars = earned(patches, { product, seedsPerAc });
      if (dollars > found.dollars) found = { product, seedsPerAc, dollars };
    }
    return found;
  }

  /** What two products, each at its best rate where it is the better one, earn of every pair. */
  function bestOfTwo(): { products: number[]; dollars: number } {
    const alone = products.map((_, product) => zones.map((patches) => best(patches, product)));
    const shares = zones.map((patches) => areaOf(patches) / areaOf(zones.flat()));
    let found = { products: [] as number[], dollars: -Infinity };
    for (const one of alone)
      for (const other of alone) {
        const chosen = zones.map((_, k) => (one[k].dollars >= other[k].dollars ? one[k] : other[k]));
        const dollars = chosen.reduce((sum, own, k) => sum + shares[k] * own.dollars, 0);
        if (dollars > found.dollars) found = { products: chosen.map(({ product }) => product), dollars };
      }
    return found;
  }

  it('every zone has the product that truly belongs there', () => {
    expect(sample.results.choices!.map(({ chosen }) => chosen.product)).toEqual(bestOfTwo().products);
  });

  it('the plan has most of what knowing the truth would bring over the best flat plan', () => {
    const whole = zones.flat();
    const flat = Math.max(...products.map((_, product) => best(whole, product).dollars));
    const shares = zones.map((patches) => areaOf(patches) / areaOf(whole));
    const own = sample.results.choices!.reduce(
      (sum, { chosen }, k) => sum + shares[k] * earned(zones[k], chosen),
      0,
    );
    const attainable = bestOfTwo().dollars - flat;
    expect(attainable).toBeGreaterThan(3);
    // Measured: 98 % of $5.89 an acre, and 93 % of $3.27.
    expect((own - flat) / attainable).toBeGreaterThan(0.8);
    expect((own - flat) / attainable).toBeLessThanOrEqual(1);
  });

  it('every product is open wherever no rule keeps it out', () => {
    const closed = sample.results.choices!.flatMap(({ options }, zone) =>
      products.flatMap(({ rated }, product) =>
        options.some((option) => option.product === product) ? [] : [`${rated.id} in zone ${zone}`],
      ),
    );
    expect(closed).toEqual(design.folder === 'marl-hollow' ? ['godwit-111 in zone 0'] : []);
  });
});
