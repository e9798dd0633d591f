import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Random, random } from '../../src/engine/math/random.ts';
import { DATA } from './field.ts';

/** 60 by 50 parcels of some 16 ha and 20 by 15 soils of some 160 ha, on the same 24 by 20 km. */
const WIDTH_M = 24_000;
const HEIGHT_M = 20_000;
const PARCELS = { cols: 60, rows: 50 };
const SOILS = { cols: 20, rows: 15 };
/** Both contestants get coordinates that are on our clipper's grid already: what differs is the work, not the rounding of the input. */
const STEPS_PER_M = 1e4;
const SEED = 20261126;

/** Rings without holes, first vertex not repeated, counter-clockwise. */
export interface OverlayField {
  readonly parcels: readonly Float64Array[];
  readonly soils: readonly Float64Array[];
}

/** Parcels with straight sides and drawn corners, a road apart; soils whose wavy borders neighbours share. */
function drawField(): OverlayField {
  const chance = random(SEED);
  return { parcels: drawParcels(chance), soils: drawSoils(chance) };
}

function drawParcels(chance: Random): Float64Array[] {
  const [w, h] = [WIDTH_M / PARCELS.cols, HEIGHT_M / PARCELS.rows];
  return Array.from({ length: PARCELS.cols * PARCELS.rows }, (_, k) => {
    const [x, y] = [(k % PARCELS.cols) * w - WIDTH_M / 2, Math.floor(k / PARCELS.cols) * h - HEIGHT_M / 2];
    const off = () => 4 + 8 * chance.uniform();
    const corners = [
      [x + off(), y + off()],
      [x + w - off(), y + off()],
      [x + w - off(), y + h - off()],
      [x + off(), y + h - off()],
    ];
    // Sides as they are driven along: a vertex every 40 m or so, to a few decimetres.
    return onGrid(
      corners.flatMap(([fromX, fromY], side) => {
        const [toX, toY] = corners[(side + 1) % 4];
        return Array.from({ length: 10 }, (_, i) => {
          const sway = i === 0 ? 0 : 0.3 * chance.normal();
          const t = i / 10;
          return [fromX + t * (toX - fromX) + sway, fromY + t * (toY - fromY) + sway];
        });
      }),
    );
  });
}

function drawSoils(chance: Random): Float64Array[] {
  const { cols, rows } = SOILS;
  const [w, h] = [WIDTH_M / cols, HEIGHT_M / rows];
  const corner = Array.from({ length: (cols + 1) * (rows + 1) }, (_, k) => {
    const [col, row] = [k % (cols + 1), Math.floor(k / (cols + 1))];
    const move = (rim: boolean, side: number) => (rim ? 0 : side * 0.5 * (chance.uniform() - 0.5));
    return [
      col * w - WIDTH_M / 2 + move(col === 0 || col === cols, w),
      row * h - HEIGHT_M / 2 + move(row === 0 || row === rows, h),
    ];
  });
  const at = (col: number, row: number) => corner[row * (cols + 1) + col];
  const wavy = (a: number[], b: number[], rim: boolean) => (rim ? [a, b] : waves(a, b, chance));
  const eastward = Array.from({ length: cols * (rows + 1) }, (_, k) => {
    const [col, row] = [k % cols, Math.floor(k / cols)];
    return wavy(at(col, row), at(col + 1, row), row === 0 || row === rows);
  });
  const northward = Array.from({ length: (cols + 1) * rows }, (_, k) => {
    const [col, row] = [k % (cols + 1), Math.floor(k / (cols + 1))];
    return wavy(at(col, row), at(col, row + 1), col === 0 || col === cols);
  });
  return Array.from({ length: cols * rows }, (_, k) => {
    const [col, row] = [k % cols, Math.floor(k / cols)];
    const south = eastward[row * cols + col];
    const north = eastward[(row + 1) * cols + col];
    const west = northward[row * (cols + 1) + col];
    const east = northward[row * (cols + 1) + col + 1];
    const withoutLast = (line: number[][]) => line.slice(0, -1);
    return onGrid([
      ...withoutLast(south),
      ...withoutLast(east),
      ...withoutLast([...north].reverse()),
      ...withoutLast([...west].reverse()),
    ]);
  });
}

/** A border of 128 pieces that sways by sines of seeded size and place: at most an eighth of its length, and not at its ends. */
function waves(a: readonly number[], b: readonly number[], chance: Random): number[][] {
  const parts = [1, 2, 3, 5, 8, 13].map((n) => ({
    n,
    size: (chance.uniform() - 0.5) / (8 * n),
    from: 6 * chance.uniform(),
  }));
  return Array.from({ length: 129 }, (_, i) => {
    const t = i / 128;
    const sway =
      Math.sin(Math.PI * t) *
      parts.reduce((sum, { n, size, from }) => sum + size * Math.sin(6 * n * t + from), 0);
    const along = [b[0] - a[0], b[1] - a[1]];
    return [a[0] + t * along[0] - sway * along[1], a[1] + t * along[1] + sway * along[0]];
  });
}

function onGrid(points: readonly (readonly number[])[]): Float64Array {
  return Float64Array.from(points.flat(), (value) => Math.round(value * STEPS_PER_M) / STEPS_PER_M);
}

/** Writes the rings as bare doubles, each after its number of vertices, parcels after their own number; gives the file's path. */
export function writeOverlayField(): string {
  const { parcels, soils } = drawField();
  const numbers = [parcels.length, soils.length];
  for (const ring of [...parcels, ...soils]) numbers.push(ring.length / 2, ...ring);
  mkdirSync(DATA, { recursive: true });
  const path = join(DATA, 'overlay.rings');
  writeFileSync(path, Float64Array.from(numbers));
  return path;
}

export function readOverlayField(path: string): OverlayField {
  const numbers = new Float64Array(new Uint8Array(readFileSync(path)).buffer);
  let at = 2;
  const ring = () => {
    const end = at + 1 + 2 * numbers[at];
    const own = numbers.subarray(at + 1, end);
    at = end;
    return own;
  };
  const parcels = Array.from({ length: numbers[0] }, ring);
  return { parcels, soils: Array.from({ length: numbers[1] }, ring) };
}

/** Pairs whose extents meet, for both contestants alike: 900,000 comparisons take a few milliseconds. */
export function pairsThatMay({ parcels, soils }: OverlayField): [number, number][] {
  const box = (ring: Float64Array) => {
    const own = [Infinity, Infinity, -Infinity, -Infinity];
    for (let i = 0; i < ring.length; i += 2) {
      own[0] = Math.min(own[0], ring[i]);
      own[1] = Math.min(own[1], ring[i + 1]);
      own[2] = Math.max(own[2], ring[i]);
      own[3] = Math.max(own[3], ring[i + 1]);
    }
    return own;
  };
  const [a, b] = [parcels.map(box), soils.map(box)];
  return a.flatMap((p, i) =>
    b.flatMap((s, j): [number, number][] =>
      p[0] > s[2] || s[0] > p[2] || p[1] > s[3] || s[1] > p[3] ? [] : [[i, j]],
    ),
  );
}
