import type { FieldDesign, HarvestDesign } from '../../../sample-fields/generator/design.ts';
import { drive, type Tick } from '../../../sample-fields/generator/drive.ts';
import { seasonYield } from '../../../sample-fields/generator/ground.ts';
import { GRAIN, type YieldRecord, yieldRecords } from '../../../sample-fields/generator/monitor.ts';
import { toFrame } from '../../../src/engine/geodesy/field-frame.ts';
import { regionLocator } from '../../../src/engine/geometry/point-in-region.ts';
import type { HarvestLog } from '../../../src/engine/harvest/harvest-log.ts';
import { random } from '../../../src/engine/math/random.ts';

export interface GeneratedHarvest {
  readonly log: HarvestLog;
  /** True yield where each record was cut, bu/ac. */
  readonly truth: Float64Array;
  /** Share of the header in standing crop, 0–1; 0 with the header up. */
  readonly share: Float64Array;
}

const M_PER_FT = 0.3048;
const SEED = 41;

/**
 * A harvest of a sample field, driven by its generator. `sound`: true yields with the noise of the sensor and true places, nothing else wrong. Not sound: all that the
 * monitor gets wrong but the delay, which is taken off elsewhere: smear, jumps, speeds, overlaps.
 */
export function generatedHarvest(
  field: FieldDesign,
  harvest: HarvestDesign,
  sound: boolean,
): GeneratedHarvest {
  const undelayed = { ...harvest, machine: { ...harvest.machine, delay_s: 0 } };
  const every = harvest.log.interval_s;
  const ticks = drive(field.parts, harvest.machine, SEED).filter((_, i) => i % every === every - 1);
  const records = yieldRecords(field, undelayed, SEED);
  const yieldAt = seasonYield(field.ground, harvest.season);
  const truth = Float64Array.from(ticks, ({ at }) => yieldAt(...at));
  const places = sound ? truePlaces(ticks) : seenPlaces(field, records);
  const isInside = regionLocator(
    field.parts.map(({ outer, holes }) => ({
      outer: Float64Array.from(outer.flat()),
      holes: holes.map((hole) => Float64Array.from(hole.flat())),
    })),
  );
  const hasHeader = harvest.log.columns.some(([, holds]) => holds === 'header');
  const log: HarvestLog = {
    records: records.length,
    ...{ x_m: places.x, y_m: places.y },
    inside: Uint8Array.from(places.x, (x, i) => (isInside(x, places.y[i]) ? 1 : 0)),
    value: sound
      ? soundYields(ticks, truth)
      : Float64Array.from(records, (own) => monitored(own, field, every)),
    ...{ buPerAcPerValue: 1, crop: field.crop },
    time_s: Float64Array.from(records, ({ time_s }) => time_s),
    flow_kgPerS: null,
    moisture_pct: Float64Array.from(records, ({ moisture_pct }) => moisture_pct),
    speed_mPerS: Float64Array.from(records, ({ speed_mph }) => speed_mph * 0.44704),
    distance_m: Float64Array.from(records, ({ distance_ft }) => distance_ft * M_PER_FT),
    swath_m: Float64Array.from(records, ({ swath_ft }) => swath_ft * M_PER_FT),
    heading_deg: null,
    header: hasHeader ? Float64Array.from(records, ({ headerDown }) => (headerDown ? 1 : 0)) : null,
    passNumber: Float64Array.from(records, ({ pass }) => pass),
  };
  return { log, truth, share: Float64Array.from(ticks, ({ share }) => share) };
}

function truePlaces(ticks: readonly Tick[]) {
  return { x: Float64Array.from(ticks, ({ at }) => at[0]), y: Float64Array.from(ticks, ({ at }) => at[1]) };
}

/** The receiver's places, turned back along the rows. */
function seenPlaces(field: FieldDesign, records: readonly YieldRecord[]) {
  const { x, y } = toFrame(
    field.centre,
    Float64Array.from(records, ({ lon }) => lon),
    Float64Array.from(records, ({ lat }) => lat),
  );
  const heading = (field.heading_deg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(heading), Math.sin(heading)];
  return { x: x.map((own, i) => own * cos - y[i] * sin), y: x.map((own, i) => own * sin + y[i] * cos) };
}

/** The sensor's own noise, some 7 %, the same as the generator's. */
function soundYields(ticks: readonly Tick[], truth: Float64Array): Float64Array {
  const { normal } = random(SEED);
  let lingering = 0;
  return truth.map((own, i) => {
    lingering = 0.8 * lingering + 0.027 * normal();
    const noise = Math.exp(lingering + 0.055 * normal());
    return ticks[i].cutting && ticks[i].moved_m > 0 ? own * noise : 0;
  });
}

function monitored(own: YieldRecord, { crop }: FieldDesign, interval_s: number): number {
  const acres = (own.distance_ft * own.swath_ft) / 43_560;
  if (acres < 1e-6) return 0;
  const { lbPerBu, base_pct } = GRAIN[crop];
  return (own.flow_lbPerS * interval_s * (100 - own.moisture_pct)) / (100 - base_pct) / acres / lbPerBu;
}
