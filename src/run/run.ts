import type { Source } from '../engine/layers/source.ts';
import type { Lineup } from '../plan/lineup-schema.ts';
import type { Plan } from '../plan/schema.ts';
import type { Results } from './results.ts';
import { accountSources } from './stages/account-sources.ts';
import { buildEnvironment } from './stages/build-environment.ts';
import { checkZones } from './stages/check-placement.ts';
import { cutField } from './stages/cut-field.ts';
import { drawZones } from './stages/draw-zones.ts';
import { fillPrescription } from './stages/fill-prescription.ts';
import { judgeWorth } from './stages/judge-worth.ts';
import { layField } from './stages/lay-field.ts';
import { priceHands } from './stages/price-hands.ts';
import { priceLimits } from './stages/price-limits.ts';
import { type ReadLayer, readLayer } from './stages/read-layer.ts';
import { readSoils } from './stages/read-soils.ts';
import { type ReadYield, readYield } from './stages/read-yield.ts';
import { setRates } from './stages/set-rates.ts';
import { usableLineup } from './stages/usable-lineup.ts';
import { yieldTwice } from './stages/yield-twice.ts';
import { type RunControl, Slice, type StageCache, startWalk } from './walk.ts';

/**
 * What a plan rests on, read: sources by their id in the plan, and the lineup. What the plan names and is not here stops all that rests
 * on it; whoever read the files has said why.
 */
export interface Inputs {
  readonly sources: ReadonlyMap<string, Source>;
  readonly lineup: Lineup | null;
}

/**
 * Walk a plan from its sources to the prescription and its ledger. A stage runs again only when what it needs changed since the run
 * that filled `cache`. Bad input ends up in `issues`, with every later answer null; throws only when cancelled (AbortError).
 */
export async function run(
  plan: Plan,
  inputs: Inputs,
  control: RunControl = {},
  cache: StageCache = new Map(),
): Promise<Results> {
  const walk = startWalk(cache, 11 + plan.evidence.yields.length + plan.evidence.layers.length, control);
  const source = (id: string | undefined) => (id === undefined ? null : (inputs.sources.get(id) ?? null));

  const boundary = source(plan.field.boundary);
  const field =
    boundary &&
    (await walk.take({
      id: 'field',
      says: 'Laying out the field',
      needs: [boundary, new Slice(plan.field)],
      run: () => layField(boundary, plan.field),
    }));

  const soilPlan = plan.evidence.soils;
  const tables = (soilPlan?.join ?? []).map((step) => source(step.source));
  // Without its tables the polygons' own column of that name is not what the plan means.
  const soilTables = tables.flatMap((table) => table ?? []);
  const soilSource = soilTables.length < tables.length ? null : source(soilPlan?.source);
  const soils =
    field &&
    soilPlan &&
    soilSource &&
    (await walk.take({
      id: 'soils',
      says: 'Sharing out the soils',
      needs: [field, soilSource, ...soilTables, new Slice(soilPlan)],
      run: () => readSoils(soilSource, soilTables, field, soilPlan),
    }));

  const judging = { crop: plan.crop, cleaning: plan.evidence.cleaning };
  const yields: ReadYield[] = [];
  const twice = yieldTwice(plan);
  walk.issues.push(...twice);
  let yieldsWhole = twice.length === 0;
  for (const [k, map] of plan.evidence.yields.entries()) {
    const points = source(map.source);
    if (!field) continue;
    const layer =
      points &&
      (await walk.take({
        id: `yield ${k}`,
        says: `Judging ${points.file}`,
        needs: [field, points, new Slice([map, judging])],
        run: () => readYield(points, field, map, judging),
        canDoWithout: !map.use,
      }));
    if (layer) yields.push(layer);
    else if (map.use) yieldsWhole = false;
  }

  const layers: ReadLayer[] = [];
  for (const [k, layerPlan] of plan.evidence.layers.entries()) {
    const own = source(layerPlan.source);
    const layer =
      field &&
      own &&
      (await walk.take({
        id: `layer ${k}`,
        says: `Laying ${own.file} on the grid`,
        needs: [field, own, new Slice(layerPlan)],
        run: () => readLayer(own, field, layerPlan),
        canDoWithout: true,
      }));
    if (layer) layers.push(layer);
  }

  const lineupPlan = plan.lineup;
  const { lineup } = inputs;
  const usable =
    lineupPlan &&
    lineup &&
    (await walk.take({
      id: 'lineup',
      says: 'Reading the lineup',
      needs: [lineup, new Slice([lineupPlan, plan.crop, plan.rates.treatments])],
      run: () =>
        usableLineup(lineup, lineupPlan.source, plan.crop, lineupPlan.leaveOut, plan.rates.treatments),
    }));
  const products = usable ? usable.products : [];
  const reference =
    products.length > 0
      ? products.reduce((sum, product) => sum + product.response.reference_buPerAc, 0) / products.length
      : null;

  // An evidence layer that is missing or was refused stops the work here: zones drawn without it would look as if it had been used.
  const evidenceWhole = field !== null && yieldsWhole && (soilPlan === null || soils !== null);
  const environment = evidenceWhole
    ? await walk.take({
        id: 'environment',
        says: 'Bringing the years together',
        needs: [field, soils, ...yields, new Slice([plan.crop, plan.environment, plan.evidence, reference])],
        run: () => buildEnvironment(field, soils, yields, plan, reference),
      })
    : null;

  const zoning =
    field &&
    environment &&
    (await walk.take({
      id: 'zones',
      says: 'Drawing zones',
      needs: [field, environment, soils, new Slice(plan.zones)],
      run: () => drawZones(field, environment, soils, plan.zones),
    }));

  const placed =
    field &&
    zoning &&
    usable &&
    (await walk.take({
      id: 'placement',
      says: 'Asking where products may go',
      needs: [field, zoning, usable, soils, ...layers],
      run: () => checkZones(field, zoning, soils, layers, products),
    }));

  const rates =
    zoning &&
    usable &&
    placed &&
    (await walk.take({
      id: 'rates',
      says: 'Setting products and rates',
      needs: [zoning, usable, placed, new Slice([plan.money, plan.rates])],
      run: () => setRates(zoning, products, placed.checks, plan),
    }));

  const prices =
    zoning &&
    placed &&
    rates &&
    (await walk.take({
      id: 'limits',
      says: 'Pricing limits and choices by hand',
      needs: [zoning, placed, rates, new Slice([plan.money, plan.rates])],
      run: () => ({
        limits: priceLimits(
          rates.open,
          rates.acres,
          plan.rates.hoppers,
          rates.limits,
          rates.freely,
          products,
        ),
        hands: priceHands(zoning, products, placed.checks, plan, rates),
        issues: [],
      }),
    }));

  const judged =
    field &&
    environment &&
    zoning &&
    rates &&
    (await walk.take({
      id: 'worth',
      says: 'Weighing how sure that is',
      needs: [environment, zoning, rates, new Slice([plan.money, plan.rates, plan.worth, plan.seed])],
      run: () => judgeWorth(field, environment, yields, zoning, products, rates, plan),
    }));

  const cut =
    field &&
    zoning &&
    rates &&
    (await walk.take({
      id: 'cut',
      says: 'Cutting the prescription',
      needs: [field, zoning, new Slice(plan.handoff.shape)],
      run: () => cutField(field, zoning, plan.handoff.shape),
    }));

  const prescription =
    cut &&
    zoning &&
    rates &&
    (await walk.take({
      id: 'prescription',
      says: 'Closing the ledger',
      needs: [cut, zoning, rates, new Slice(plan.rates)],
      run: () => fillPrescription(cut.pieces, zoning, rates.choices, products, plan.rates),
    }));

  if (zoning && plan.lineup === null) {
    walk.issues.push({
      code: 'lineup-missing',
      severity: 'warning',
      where: 'lineup',
      found: 'no lineup in the plan',
      expected: 'the products on offer',
      effect: 'Zones are drawn, but no product or rate is set and nothing is handed off',
      remedy: 'Add a lineup (command line: --lineup)',
    });
  }
  control.onProgress?.({ step: 'Figures ready', share: 1 });
  return {
    field,
    sources: accountSources(plan, inputs, { field, soils, yields, layers, usable }),
    soils: soils || null,
    yields,
    layers,
    environment,
    zoning,
    lineup: products,
    lineupDocument: lineup,
    placement: placed ? placed.checks : null,
    choices: rates ? rates.choices : null,
    worth: rates ? rates.worth : null,
    limits: prices ? prices.limits : [],
    hands: prices ? prices.hands : [],
    sure: judged ? judged.sure : null,
    ledger: prescription ? prescription.ledger : null,
    prescription: prescription ? prescription.features : null,
    issues: walk.issues,
  };
}
