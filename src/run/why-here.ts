import { toLonLat } from '../engine/geodesy/field-frame.ts';
import { regionLocator } from '../engine/geometry/point-in-region.ts';
import type { Plan } from '../plan/schema.ts';
import { figure } from './figures.ts';
import type { Environment, Results } from './results.ts';
import { rateSentences, type WhySentence } from './why-rate.ts';

/** The trail of one spot: short sentences, each with where its figures came from, ending in the rate. */
export interface WhyHere {
  readonly cell: number;
  readonly lon: number;
  readonly lat: number;
  readonly sentences: readonly WhySentence[];
}

/** Why the rate on a cell is what it is. Null when the field has no such cell. */
export function whyHere(results: Results, plan: Plan, cell: number): WhyHere | null {
  const { field } = results;
  if (!field || !(cell >= 0 && cell < field.grid.area.length)) return null;
  const { lon, lat } = toLonLat(
    field.frame,
    field.grid.x.subarray(cell, cell + 1),
    field.grid.y.subarray(cell, cell + 1),
  );
  const sentences = [
    ...soilSentence(results, cell),
    ...yieldSentence(results, plan, cell),
    ...zoneSentence(results, plan, cell),
    ...rateSentences(results, plan, cell),
  ];
  return { cell, lon: lon[0], lat: lat[0], sentences };
}

function soilSentence({ field, soils }: Results, cell: number): WhySentence[] {
  if (!soils || !field) return [];
  const value = soils.values[cell];
  if (!Number.isNaN(value)) {
    const unit = soils.unit ? ` ${soils.unit}` : '';
    return [
      {
        text: `The soil here is rated ${figure.tenth(value)}${unit}; the field's mean is ${figure.tenth(soils.summary.mean)}.`,
        source: `soil map, ${soils.label}`,
      },
    ];
  }
  const { x, y } = field.grid;
  const here = soils.mapUnits.find((unit) => regionLocator(unit.region)(x[cell], y[cell]));
  const text = !here
    ? 'No soil is mapped here.'
    : Number.isNaN(here.value)
      ? `The soil here, ${here.name}, is mapped, but without a value.`
      : 'Soils with a value hold less than half of this cell, so it has none.';
  return [{ text, source: `soil map, ${soils.label}` }];
}

function yieldSentence({ yields, environment }: Results, plan: Plan, cell: number): WhySentence[] {
  if (plan.evidence.yields.length === 0) return [];
  if (!yields.some((layer) => layer.use)) return [{ text: 'No yield map is in use.', source: 'yield maps' }];
  const used = yields.filter((layer) => layer.use && !Number.isNaN(layer.values[cell]));
  if (used.length === 0) return [{ text: 'No yield was measured here.', source: 'yield maps' }];
  const shares = used.map((layer) => {
    const level = environment?.levels.find(({ id }) => id === layer.id)?.level ?? layer.summary.mean;
    return layer.values[cell] / level - 1;
  });
  const mean = shares.reduce((sum, share) => sum + share, 0) / shares.length;
  const alike = shares.filter((share) => Math.sign(share) === Math.sign(mean)).length;
  const side = mean < 0 ? 'under' : 'over';
  const spread =
    shares.length > 1
      ? `, give or take ${figure.whole(100 * Math.sqrt(shares.reduce((sum, share) => sum + (share - mean) ** 2, 0) / (shares.length - 1)))}`
      : '';
  const years = figure.count(shares.length, 'year');
  const level = Math.abs(mean) < 0.005;
  return [
    {
      text: level
        ? `It yields as the field does${spread}, over ${years}.`
        : `It yields ${figure.whole(100 * Math.abs(mean))} % ${side} the field${spread}; ${side} in ${alike} of ${years}.`,
      source: used.map((layer) => layer.label).join(', '),
    },
  ];
}

function zoneSentence({ zoning, environment }: Results, plan: Plan, cell: number): WhySentence[] {
  if (!zoning || !environment) return [];
  const zone = zoning.zones[zoning.label[cell]];
  const own = environment.values[cell];
  const unmapped = Number.isNaN(own);
  const level = figure.whole(zone.environment_buPerAc);
  const ground = `${level} ± ${figure.whole(zone.environmentSd_buPerAc)} bu/ac ground`;
  if (!zone.known) {
    return [
      {
        text: unmapped
          ? `No layer in use has a value here, so it is planted for the field's expected ${level} bu/ac.`
          : `This spot by itself: ${figure.whole(own)} bu/ac. It is too small for a zone and goes with the ground around it, where no layer in use has a value, planted for the field's expected ${level}.`,
        source: unmapped ? 'zones' : `zones, ${whoSpoke(environment, plan, cell)}`,
      },
    ];
  }
  if (unmapped) {
    return [
      {
        text: `No layer in use has a value here. The spot is too small for a zone and goes with ${zone.name} around it, ${ground}.`,
        source: `zones, ${environment.from}`,
      },
    ];
  }
  return [
    {
      text: `It lies in ${zone.name}, ${ground}. This spot by itself: ${figure.whole(own)}.`,
      source: `zones, ${whoSpoke(environment, plan, cell)}`,
    },
  ];
}

/** The evidence behind the environment of a cell. */
function whoSpoke(environment: Environment, plan: Plan, cell: number): string {
  if (environment.years[cell] > 0) return 'yield maps';
  if (!environment.from.includes('soil')) return environment.from;
  return plan.evidence.soils?.meaning === 'yield' ? 'soil ratings' : 'soil index';
}
