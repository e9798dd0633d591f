import { toLonLat } from '../engine/geodesy/field-frame.ts';
import { regionLocator } from '../engine/geometry/point-in-region.ts';
import type { Plan } from '../plan/schema.ts';
import { figure } from './figures.ts';
import type { Environment, Results, YieldLayer } from './results.ts';
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
  const used = yields.filter((layer) => layer.use);
  if (used.length === 0) return [{ text: 'No yield map is in use.', source: 'yield maps' }];
  const known = used.filter((layer) => !Number.isNaN(layer.values[cell]));
  if (known.length === 0) return [{ text: 'No yield was measured here.', source: 'yield maps' }];
  const counted = known.filter(counts);
  // A year called unusual still tells something where no other does.
  const told = counted.length > 0 ? counted : known;
  const shares = told.map((layer) => {
    const level = environment?.levels.find(({ id }) => id === layer.id)?.level ?? layer.summary.mean;
    return layer.values[cell] / level - 1;
  });
  const whole = told.reduce((sum, layer) => sum + (counts(layer) ? layer.weight : 1), 0);
  const mean = shares.reduce(
    (sum, share, k) => sum + (share * (counts(told[k]) ? told[k].weight : 1)) / whole,
    0,
  );
  const alike = shares.filter((share) => Math.sign(share) === Math.sign(mean)).length;
  const side = mean < 0 ? 'under' : 'over';
  const error = environment ? giveOrTake(environment, cell) : '';
  const years = figure.count(shares.length, 'year');
  const level = Math.abs(mean) < 0.005;
  const text = level
    ? `It yields as the field does${error}, over ${years}.`
    : `It yields ${figure.whole(100 * Math.abs(mean))} % ${side} the field${error}; ${side} in ${alike} of ${years}.`;
  return [
    {
      text: [text, ...hints(known, counted, cell)].join(' '),
      source: told.map((layer) => layer.label).join(', '),
    },
  ];
}

/** The standard error of a cell, in percent of the field; of a single year it is only that of measuring. */
function giveOrTake({ error, errorFrom, expected_buPerAc }: Environment, cell: number): string {
  const off = (100 * error[cell]) / expected_buPerAc;
  if (!Number.isFinite(off)) return '';
  const amount = off < 0.5 ? 'less than 1' : figure.whole(off);
  return `, give or take ${amount}${errorFrom === 'measurement in one year' ? ' as measured that year' : ''}`;
}

const counts = ({ unusual, weight }: YieldLayer): boolean => !unusual && weight > 0;

/** What of the years a person should know who weighs them: years called unusual, and years whose own points here were all set aside. */
function hints(known: readonly YieldLayer[], counted: readonly YieldLayer[], cell: number): string[] {
  const names = (layers: readonly YieldLayer[]) => layers.map(({ label }) => label).join(' and ');
  const unusual = known.filter((layer) => !counted.includes(layer));
  const filled = counted.filter((layer) => layer.support[cell] === 0);
  return [
    ...(counted.length > 0 && unusual.length > 0 ? [`${names(unusual)} is not counted.`] : []),
    ...(filled.length > 0 ? [`${names(filled)} kept no point here; near ones speak for it.`] : []),
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
