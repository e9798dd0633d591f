import { random } from '../../src/engine/math/random.ts';
import type { Point } from './design.ts';

/** A smooth rise (or, below zero, fall) of the yield environment, bell-shaped, longer one way than the other. */
interface Swell {
  readonly at: Point;
  readonly radius_m: readonly [number, number];
  /** Counter-clockwise turn of the first radius from the u axis, degrees. */
  readonly turn_deg: number;
  readonly height: number;
}

/** Ground either side of a line is richer by `height`, fading over `width_m`. */
interface Valley {
  readonly path: readonly Point[];
  readonly width_m: number;
  readonly height: number;
}

/** Many small waves in all directions; `sd` is the spread of their sum. */
interface Texture {
  readonly seed: number;
  readonly sd: number;
  readonly shortest_m: number;
  readonly longest_m: number;
}

export interface GroundDesign {
  readonly base_buPerAc: number;
  readonly swells: readonly Swell[];
  readonly valleys: readonly Valley[];
  readonly texture: Texture;
}

/** What a year makes of the ground. */
export interface SeasonDesign {
  /** Above or below an average year, bu/ac. */
  readonly shift: number;
  /** Differences of the ground from its base are stretched by this: dry years spread a field, wet years level it. */
  readonly stretch: number;
  readonly texture: Texture;
  /** Crop lost to standing water: the share lost in the middle is −height. */
  readonly drowned: readonly Swell[];
}

/** A value in bu/ac at a point of turned metres. */
export type YieldAt = (u: number, v: number) => number;

/** The yield environment of the ground: what it gives in an average year. */
export function environmentOf(design: GroundDesign): YieldAt {
  const relief = reliefOf(design);
  const texture = textureOf(design.texture);
  return (u, v) => relief(u, v) + texture(u, v);
}

/** The environment without its small texture: the lie of the land, which soils follow. */
export function reliefOf(design: GroundDesign): YieldAt {
  return (u, v) => {
    let value = design.base_buPerAc;
    for (const swell of design.swells) value += swellAt(swell, u, v);
    for (const { path, width_m, height } of design.valleys) {
      value += height * Math.exp(-((distanceTo(path, u, v) / width_m) ** 2));
    }
    return value;
  };
}

/** The crop that stood in a year. */
export function seasonYield(design: GroundDesign, season: SeasonDesign): YieldAt {
  const environment = environmentOf(design);
  const texture = textureOf(season.texture);
  const base = design.base_buPerAc;
  return (u, v) => {
    const grown = base + season.shift + season.stretch * (environment(u, v) - base) + texture(u, v);
    let standing = 1;
    for (const pool of season.drowned) standing *= 1 + swellAt(pool, u, v);
    return Math.max(0, grown * standing);
  };
}

const WAVES = 14;

export function textureOf({ seed, sd, shortest_m, longest_m }: Texture): YieldAt {
  const { uniform } = random(seed);
  const waves = Array.from({ length: WAVES }, () => {
    const length = shortest_m * (longest_m / shortest_m) ** uniform();
    const direction = 2 * Math.PI * uniform();
    const k = (2 * Math.PI) / length;
    return { ku: k * Math.cos(direction), kv: k * Math.sin(direction), phase: 2 * Math.PI * uniform() };
  });
  const height = sd * Math.sqrt(2 / WAVES);
  return (u, v) => {
    let sum = 0;
    for (const { ku, kv, phase } of waves) sum += Math.cos(ku * u + kv * v + phase);
    return height * sum;
  };
}

function swellAt({ at, radius_m, turn_deg, height }: Swell, u: number, v: number): number {
  const turn = (turn_deg * Math.PI) / 180;
  const du = u - at[0];
  const dv = v - at[1];
  const along = (du * Math.cos(turn) + dv * Math.sin(turn)) / radius_m[0];
  const across = (dv * Math.cos(turn) - du * Math.sin(turn)) / radius_m[1];
  return height * Math.exp(-(along * along + across * across));
}

function distanceTo(path: readonly Point[], u: number, v: number): number {
  let nearest = Infinity;
  for (let i = 1; i < path.length; i++) {
    const [u1, v1] = path[i - 1];
    const du = path[i][0] - u1;
    const dv = path[i][1] - v1;
    const t = Math.min(1, Math.max(0, ((u - u1) * du + (v - v1) * dv) / (du * du + dv * dv)));
    nearest = Math.min(nearest, Math.hypot(u - u1 - t * du, v - v1 - t * dv));
  }
  return nearest;
}
