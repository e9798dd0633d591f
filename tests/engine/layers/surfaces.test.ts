import { describe, expect, it } from 'vitest';
import { layOutGrid } from '../../../src/engine/grid/lay-out-grid.ts';
import { areaShareMeans } from '../../../src/engine/layers/area-share.ts';
import { smooth } from '../../../src/engine/layers/smooth.ts';
import { soilRelative } from '../../../src/engine/layers/soil-relative.ts';
import { median } from '../../../src/engine/math/median.ts';
import { random } from '../../../src/engine/math/random.ts';
import { spreadOf } from '../../../src/engine/math/weighted.ts';
import { drawn } from '../grid/drawn.ts';
import { box, region } from '../grid/shapes.ts';

const f = (...values: number[]) => Float64Array.from(values);

describe('polygon values as means by area share', () => {
  const { grid } = drawn(['00', '00'], 10);

  it('weigh by the area each polygon has of the cell', () => {
    // 100 on the west 5 m, 200 on the rest: the west cells hold half of each.
    const values = areaShareMeans(grid, [
      { region: region(box(0, 0, 5, 20)), value: 100 },
      { region: region(box(5, 0, 15, 20)), value: 200 },
    ]);
    expect(Array.from(values)).toEqual([150, 200, 150, 200]);
  });

  it('are not known where less than half of the cell has a value', () => {
    const values = areaShareMeans(grid, [
      { region: region(box(0, 0, 4.9, 20)), value: 100 },
      { region: region(box(4.9, 0, 5.1, 20)), value: NaN },
      { region: region(box(10, 0, 5, 20)), value: 70 },
    ]);
    expect(Array.from(values)).toEqual([NaN, 70, NaN, 70]);
  });

  it('compare with the part of the cell inside the field', () => {
    const field = region(box(0, 0, 14, 10));
    const edge = layOutGrid(field, 10, 0);
    // The box is centred: cells of 7 m of the field each. 4 m of the west one is rated.
    const values = areaShareMeans(edge, [{ region: region(box(0, 0, 4, 10)), value: 5 }]);
    expect(Array.from(values)).toEqual([5, NaN]);
  });

  it('keep the mean of the field', () => {
    const field = region([0, 0, 95, 12, 120, 80, 30, 110]);
    const turned = layOutGrid(field, 9, 33);
    // Two halves of the field, cut along x = 60: every cell is rated, so the mean by area is that of the halves.
    const west = region([0, 0, 60, (12 * 60) / 95, 60, 110 - (30 * 30) / 90, 30, 110]);
    const east = region([60, (12 * 60) / 95, 95, 12, 120, 80, 60, 110 - (30 * 30) / 90]);
    const values = areaShareMeans(turned, [
      { region: west, value: 100 },
      { region: east, value: 200 },
    ]);
    const area = (ring: Float64Array) => {
      let twice = 0;
      for (let i = 0; i < ring.length; i += 2) {
        const j = (i + 2) % ring.length;
        twice += ring[i] * ring[j + 1] - ring[j] * ring[i + 1];
      }
      return twice / 2;
    };
    const [w, e] = [area(west[0].outer), area(east[0].outer)];
    expect(spreadOf(values, turned.area).mean).toBeCloseTo((100 * w + 200 * e) / (w + e), 9);
  });
});

describe('smoothing', () => {
  it('leaves a level surface level and unknown cells unknown', () => {
    const { grid } = drawn(['0000', '00.0', '0000'], 10);
    const surface = new Float64Array(11).fill(42);
    surface[5] = NaN;
    const smoothed = smooth(grid, surface, 15);
    smoothed.forEach((value, cell) => {
      if (cell === 5) expect(value).toBeNaN();
      else expect(value).toBeCloseTo(42, 12);
    });
  });

  it('spreads a peak by a bell of that width, cut at two of it', () => {
    const { grid } = drawn(['0000000'], 10);
    const smoothed = smooth(grid, f(0, 0, 0, 1, 0, 0, 0), 10);
    const bell = [Math.exp(-2), Math.exp(-0.5), 1, Math.exp(-0.5), Math.exp(-2)];
    const whole = bell.reduce((sum, weight) => sum + weight, 0);
    expect(smoothed[0]).toBe(0);
    expect(smoothed[3]).toBeCloseTo(1 / whole, 12);
    // Cell 1 sees cells 0 to 3 only: the field ends.
    expect(smoothed[1]).toBeCloseTo(bell[4] / (whole - bell[0]), 12);
  });

  it('weighs by area', () => {
    const { grid } = drawn(['00'], 10, [100, 1]);
    const side = Math.exp(-0.5);
    expect(smooth(grid, f(0, 1), 10)[1]).toBeCloseTo(1 / (1 + 100 * side), 12);
  });

  it('does nothing under half a cell, and stays within the range of its values', () => {
    const { grid } = drawn(['000', '000'], 10);
    const stream = random(3);
    const surface = Float64Array.from({ length: 6 }, () => stream.normal());
    expect(Array.from(smooth(grid, surface, 4))).toEqual(Array.from(surface));
    const smoothed = smooth(grid, surface, 25);
    expect(Math.max(...smoothed)).toBeLessThan(Math.max(...surface));
    expect(Math.min(...smoothed)).toBeGreaterThan(Math.min(...surface));
  });
});

describe('soils as relative yield', () => {
  it('is a rating over its mean by area', () => {
    expect(Array.from(soilRelative(f(100, 200, NaN), f(1, 3, 5), 'yield', 0.1))).toEqual([
      100 / 175,
      200 / 175,
      NaN,
    ]);
  });

  it('is so much a standard deviation for an index, and level ground is 1', () => {
    // Mean 4, standard deviation 2.
    expect(Array.from(soilRelative(f(2, 6, NaN), f(1, 1, 1), 'index', 0.1))).toEqual([0.9, 1.1, NaN]);
    expect(Array.from(soilRelative(f(7, 7), f(1, 2), 'index', 0.1))).toEqual([1, 1]);
  });
});

describe('figures of a surface', () => {
  it('weigh by area and leave out what is not known', () => {
    expect(spreadOf(f(1, NaN, 5), f(3, 9, 1))).toEqual({
      known: 2,
      weight: 4,
      mean: 2,
      sd: Math.sqrt(3),
      min: 1,
      max: 5,
    });
    expect(spreadOf(f(NaN), f(1)).mean).toBeNaN();
  });

  it('have a median of the middle two, NaN of nothing', () => {
    expect(median([3, NaN, 1, 2])).toBe(2);
    expect(median([4, 1, 2, 3])).toBe(2.5);
    expect(median([NaN])).toBeNaN();
  });
});
