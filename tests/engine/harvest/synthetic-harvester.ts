import type { HarvestLog } from '../../../src/engine/harvest/harvest-log.ts';
import { random } from '../../../src/engine/math/random.ts';

/** A field, a combine and its monitor, all invented. The field is a rectangle, `across_m` by `along_m`, turned by `heading_deg`. */
export interface Harvest {
  readonly seed: number;
  readonly across_m: number;
  readonly along_m: number;
  /** Of the passes, clockwise from north. */
  readonly heading_deg: number;
  readonly header_m: number;
  readonly speed_mPerS: number;
  /** Seconds from the header to the sensor that nothing passes in. */
  readonly dead_s: number;
  /** Time constant of the first-order smear after it: the mean residence is dead_s + smear_s. */
  readonly smear_s: number;
  /** Spread of the multiplied error of a flow reading. */
  readonly noise: number;
  /** Spread of the wandering error of the position. */
  readonly gps_m: number;
  readonly interval_s: number;
  /** Every pass driven the same way, with an empty way back. */
  readonly oneWay: boolean;
  /** Rounds along the edge before the passes. */
  readonly rounds: number;
  readonly logsHeaderUp: boolean;
  /** Every metre yields the same. */
  readonly constant: boolean;
}

export const USUAL: Harvest = {
  seed: 1,
  across_m: 260,
  along_m: 420,
  heading_deg: 0,
  header_m: 9.14,
  speed_mPerS: 2,
  dead_s: 12,
  smear_s: 1.5,
  noise: 0.05,
  gps_m: 0.4,
  interval_s: 1,
  oneWay: false,
  rounds: 2,
  logsHeaderUp: true,
  constant: false,
};

/** What the maker of the log knows. Yield in t/ha, dry matter and water alike. */
export interface Harvested {
  readonly log: HarvestLog;
  readonly yieldAt: (x_m: number, y_m: number) => number;
  /**
   * What an estimate should find: mean residence, and half an interval more, for a record holds the mean flow of the interval
   * that ends at its position.
   */
  readonly delay_s: number;
}

const STEP_S = 0.25;
const MOISTURE_PCT = 18;
/** A sensor does not see the last grains of a smear. */
const LEAST_SENSED_KG_PER_S = 0.1;

type Point = readonly [u: number, v: number];
interface Stretch {
  readonly from: Point;
  readonly to: Point;
  readonly cutting: boolean;
  readonly pass: number;
  /** Share of the header in standing crop. */
  readonly share: number;
}

/** Harvest the field. Same design, same bytes. */
export function harvestField(options: Partial<Harvest> = {}): Harvested {
  const design = { ...USUAL, ...options };
  const { normal, uniform } = random(design.seed);
  const yieldIn = groundOf(design);
  const turn = (design.heading_deg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const perRecord = Math.round(design.interval_s / STEP_S);
  const inTransit = new Float64Array(Math.round(design.dead_s / STEP_S) + 1);
  const waterInTransit = new Float64Array(inTransit.length);
  const rows: number[][] = [];
  let [sensed, water] = [0, 0];
  let [step, flow, flowWater, gone] = [0, 0, 0, 0];
  let [speed, wander, stopped] = [design.speed_mPerS, 0, 0];
  let [driftX, driftY] = [0, 0];
  for (const { from, to, cutting, pass, share } of routeOf(design, uniform)) {
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const gear = cutting && uniform() < 0.2 ? 0.7 + 0.6 * uniform() : 1;
    for (let along = 0; along < length - 1e-9; ) {
      wander = 0.99 * wander + 0.01 * normal();
      if (stopped > 0) stopped -= STEP_S;
      else if (cutting && uniform() < STEP_S / 1500) stopped = 6 + 10 * uniform();
      const wanted = stopped > 0 ? 0 : design.speed_mPerS * gear * Math.exp(wander);
      speed += (wanted - speed) * (stopped > 0 ? 0.5 : 0.15);
      const moved = Math.min(speed * STEP_S, length - along);
      const middle = (along + moved / 2) / length;
      along += moved;
      const u = from[0] + (to[0] - from[0]) * middle;
      const v = from[1] + (to[1] - from[1]) * middle;
      // t/ha over m² are 0.1 kg.
      const intake = cutting ? (yieldIn(u, v) * 0.1 * share * design.header_m * moved) / STEP_S : 0;
      const slot = step % inTransit.length;
      inTransit[slot] = intake;
      waterInTransit[slot] = (intake * moistureOf(yieldIn(u, v))) / 100;
      const leaving = (step + 1) % inTransit.length;
      // The weights of a discrete first-order lag have the mean (1 − pull) / pull steps: smear_s.
      const pull = STEP_S / (design.smear_s + STEP_S);
      sensed += (inTransit[leaving] - sensed) * pull;
      water += (waterInTransit[leaving] - water) * pull;
      flow += sensed / perRecord;
      flowWater += water / perRecord;
      gone += moved;
      if (++step % perRecord > 0) continue;
      driftX = 0.97 * driftX + 0.24 * design.gps_m * normal();
      driftY = 0.97 * driftY + 0.24 * design.gps_m * normal();
      const end = along / length;
      const [a, b] = [from[0] + (to[0] - from[0]) * end, from[1] + (to[1] - from[1]) * end];
      const reading = flow < LEAST_SENSED_KG_PER_S ? 0 : flow * Math.exp(design.noise * normal());
      const area_m2 = gone * design.header_m;
      rows.push([
        a * cos + b * sin + driftX,
        b * cos - a * sin + driftY,
        area_m2 > 0.5 ? (10 * reading * design.interval_s) / area_m2 : 0,
        step * STEP_S,
        reading,
        flow > 0.01 ? (100 * flowWater) / flow + 0.1 * normal() : MOISTURE_PCT,
        gone / design.interval_s,
        gone,
        cutting ? 1 : 0,
        pass,
      ]);
      [flow, flowWater, gone] = [0, 0, 0];
    }
  }
  const written = design.logsHeaderUp ? rows : rows.filter((row) => row[8] === 1);
  return {
    log: logOf(written, design.header_m),
    yieldAt: (x, y) => yieldIn(x * cos - y * sin, x * sin + y * cos),
    delay_s: design.dead_s + design.smear_s + design.interval_s / 2,
  };
}

function logOf(rows: readonly (readonly number[])[], header_m: number): HarvestLog {
  const column = (k: number) => Float64Array.from(rows, (row) => row[k]);
  return {
    records: rows.length,
    x_m: column(0),
    y_m: column(1),
    inside: new Uint8Array(rows.length).fill(1),
    value: column(2),
    buPerAcPerValue: null,
    crop: 'corn',
    time_s: column(3),
    flow_kgPerS: column(4),
    moisture_pct: column(5),
    speed_mPerS: column(6),
    distance_m: column(7),
    swath_m: new Float64Array(rows.length).fill(header_m),
    heading_deg: null,
    header: column(8),
    passNumber: column(9),
  };
}

/** Rounds along the edge, then passes side by side; the last takes what is left, and now and then one is driven over cut ground. */
function routeOf(design: Harvest, uniform: () => number): Stretch[] {
  const { across_m, along_m, header_m, rounds, oneWay } = design;
  const out: Stretch[] = [];
  let pass = 0;
  const add = (from: Point, to: Point, cutting: boolean, share = 1) => {
    out.push({ from, to, cutting, pass, share });
  };
  const drive = (from: Point, to: Point, share = 1) => {
    const before = out.at(-1)?.to;
    if (before && Math.hypot(before[0] - from[0], before[1] - from[1]) > 1) {
      // A swing beyond the end of the pass, header up.
      const past = before[1] > along_m / 2 ? before[1] + 8 : before[1] - 8;
      add(before, [before[0], past], false);
      add([before[0], past], [from[0], past], false);
      add([from[0], past], from, false);
    }
    pass++;
    add(from, to, true, share);
  };
  for (let k = 0; k < rounds; k++) {
    const m = header_m * (k + 0.5);
    const corners: Point[] = [
      [m, m],
      [m, along_m - m],
      [across_m - m, along_m - m],
      [across_m - m, m],
    ];
    for (let side = 0; side < 4; side++) drive(corners[side], corners[(side + 1) % 4]);
  }
  const edge = header_m * rounds;
  let up = true;
  for (let left = edge; left < across_m - edge - 0.5; ) {
    const whole = Math.min(header_m, across_m - edge - left);
    const cut = uniform() < 0.06 ? 0.7 * whole : whole;
    const u = left + cut - header_m / 2;
    const ends: [Point, Point] = [
      [u, edge],
      [u, along_m - edge],
    ];
    drive(...(up ? ends : (ends.toReversed() as [Point, Point])), cut / header_m);
    if (!oneWay) up = !up;
    left += cut;
  }
  return out;
}

const moistureOf = (yield_tPerHa: number) => MOISTURE_PCT + 0.4 * (yield_tPerHa - 10);

/** Smooth waves, patches with a soft rim, and one sharp step along a slanting line. t/ha over (across, along). */
function groundOf({ seed, across_m, along_m, constant }: Harvest): (u: number, v: number) => number {
  if (constant) return () => 10;
  const { uniform } = random(seed + 1000);
  const waves = Array.from({ length: 10 }, () => {
    const k = (2 * Math.PI) / (70 * 4 ** uniform());
    const way = 2 * Math.PI * uniform();
    return { u: k * Math.cos(way), v: k * Math.sin(way), phase: 2 * Math.PI * uniform() };
  });
  const patches = Array.from({ length: 8 }, () => ({
    u: across_m * uniform(),
    v: along_m * uniform(),
    radius_m: 12 + 25 * uniform(),
    height: 4 * uniform() - 2.5,
  }));
  const slant = 0.6 * uniform() - 0.3;
  const edge = along_m * (0.35 + 0.3 * uniform());
  return (u, v) => {
    let t = v - edge - slant * (u - across_m / 2) > 0 ? 10.8 : 9.2;
    for (const wave of waves) t += 0.3 * Math.cos(wave.u * u + wave.v * v + wave.phase);
    for (const patch of patches) {
      const far = Math.hypot(u - patch.u, v - patch.v) - patch.radius_m;
      t += patch.height / (1 + Math.exp(far / 2));
    }
    return Math.max(1, t);
  };
}
