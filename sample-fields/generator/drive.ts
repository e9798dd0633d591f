import { random } from '../../src/engine/math/random.ts';
import { coverageOf } from './coverage.ts';
import type { MachineDesign, Part, Point } from './design.ts';
import { between } from './outline.ts';
import { routeOf } from './route.ts';

/** The combine at the end of each second: where it is and what it took in since the last. */
export interface Tick {
  readonly at: Point;
  readonly time_s: number;
  /** Driven in this second, m. */
  readonly moved_m: number;
  /** Clockwise from the rows, degrees. */
  readonly bearing_deg: number;
  readonly pass: number;
  readonly cutting: boolean;
  /** Share of the header that met standing crop, 0–1. */
  readonly share: number;
}

const METRES_PER_S_PER_MPH = 0.44704;
const METRES_PER_FT = 0.3048;
/** The monitor goes on this long after the header is raised, which sees the last grain through; then it waits. */
const HEADER_UP_S = 22;

/** Drive the whole route, second by second, with an operator's speed: wandering, slow at the ends, now and then a stop. */
export function drive(parts: readonly Part[], machine: MachineDesign, seed: number): Tick[] {
  const { uniform, normal } = random(seed);
  const header_m = machine.header_ft * METRES_PER_FT;
  const coverage = coverageOf(parts);
  const cruise = machine.speed_mph * METRES_PER_S_PER_MPH;
  const ticks: Tick[] = [];
  let wander = 0;
  let speed = 0;
  let stopped = 0;
  let time_s = 0;
  for (const leg of routeOf(parts, header_m, machine.offset)) {
    const way = walker(leg.path);
    // Some passes are simply driven faster or slower.
    const gear = leg.cutting && uniform() < 0.12 ? 0.72 + 0.55 * uniform() : 1;
    const until = leg.cutting ? Infinity : time_s + HEADER_UP_S;
    let at = leg.path[0];
    for (let gone = 0; gone < way.length; ) {
      if (time_s >= until) {
        time_s += Math.ceil((way.length - gone) / cruise);
        break;
      }
      wander = 0.92 * wander + 0.03 * normal();
      if (stopped > 0) stopped--;
      else if (leg.cutting && uniform() < 1 / 1800) stopped = 5 + Math.floor(16 * uniform());
      else if (leg.cutting && uniform() < 1 / 900) speed *= uniform() < 0.5 ? 0.5 : 1.6;
      const wanted = stopped > 0 ? 0 : cruise * (leg.cutting ? gear * (1 + wander) : 0.8);
      speed += (wanted - speed) * (stopped > 0 ? 0.75 : 0.45);
      if (stopped > 0 && speed < 0.08) speed = 0;
      const moved_m = Math.min(speed, way.length - gone);
      gone += moved_m;
      const next = way.at(gone);
      const share = leg.cutting ? coverage.cut(at, next, header_m, leg.pass) : 0;
      const last = ticks.at(-1)?.bearing_deg ?? 0;
      ticks.push({
        at: next,
        time_s: ++time_s,
        moved_m,
        bearing_deg: moved_m > 0.02 ? bearing(at, next) : last,
        pass: leg.pass,
        cutting: leg.cutting,
        share,
      });
      at = next;
    }
  }
  return ticks;
}

/** The point a given way along a path. */
function walker(path: readonly Point[]) {
  const reach = [0];
  for (let i = 1; i < path.length; i++) {
    reach.push(reach[i - 1] + Math.hypot(path[i][0] - path[i - 1][0], path[i][1] - path[i - 1][1]));
  }
  let i = 1;
  return {
    length: reach[reach.length - 1],
    at(gone: number): Point {
      while (i < path.length - 1 && reach[i] < gone) i++;
      const span = reach[i] - reach[i - 1];
      return span === 0 ? path[i] : between(path[i - 1], path[i], Math.min(1, (gone - reach[i - 1]) / span));
    },
  };
}

function bearing(a: Point, b: Point): number {
  return (Math.atan2(b[0] - a[0], b[1] - a[1]) * 180) / Math.PI;
}
