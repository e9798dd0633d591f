import { describe, expect, it } from 'vitest';
import { type Crs, crsFromEpsg, crsToLonLat, WGS84 } from '../../../src/engine/geodesy/crs.ts';
import { type FieldFrame, fieldFrame, toFrame, toLonLat } from '../../../src/engine/geodesy/field-frame.ts';
import { lonLatToCrs } from '../../../src/engine/geodesy/lonlat-to-crs.ts';
import { convexArea, convexInBox } from '../../../src/engine/geometry/convex-in-box.ts';
import type { FieldGrid } from '../../../src/engine/grid/field-grid.ts';
import { layOutGrid } from '../../../src/engine/grid/lay-out-grid.ts';
import { areaShareMeans } from '../../../src/engine/layers/area-share.ts';
import { pixelsOver } from '../../../src/engine/layers/pixels-over.ts';
import { rasterMeans } from '../../../src/engine/layers/raster-means.ts';
import type { Raster } from '../../../src/engine/layers/source.ts';
import { random } from '../../../src/engine/math/random.ts';

const UTM15 = crsFromEpsg(32615) as Crs;
const IOWA_FT = crsFromEpsg(3417) as Crs;
const FRAME = fieldFrame(-93.5, 42);

/** A square field of this side around the middle of the frame. */
function square(side_m: number, cell_m: number, heading_deg = 0): FieldGrid {
  const h = side_m / 2;
  return layOutGrid([{ outer: Float64Array.of(-h, -h, h, -h, h, h, -h, h), holes: [] }], cell_m, heading_deg);
}

/** A raster of square pixels of `pixel` units of `crs`, turned, with the middle of the frame in its middle. */
function rasterAround(crs: Crs, pixel: number, width: number, height: number, turned_deg = 0): Raster {
  const { x, y } = lonLatToCrs(crs, Float64Array.of(FRAME.lon0), Float64Array.of(FRAME.lat0));
  const [cos, sin] = [Math.cos((turned_deg * Math.PI) / 180), Math.sin((turned_deg * Math.PI) / 180)];
  const [a, b, d, e] = [pixel * cos, pixel * sin, pixel * sin, -pixel * cos];
  const c = x[0] - (a * width + b * height) / 2;
  const f = y[0] - (d * width + e * height) / 2;
  return { width, height, transform: [a, b, c, d, e, f] };
}

/** Places of a raster in the frame, m: pixel coordinates (column, row) to x, y. */
function placed(frame: FieldFrame, raster: Raster, crs: Crs, cols: number[], rows: number[]) {
  const [a, b, c, d, e, f] = raster.transform;
  const { lon, lat } = crsToLonLat(
    crs,
    Float64Array.from(cols, (col, i) => a * col + b * rows[i] + c),
    Float64Array.from(cols, (col, i) => d * col + e * rows[i] + f),
  );
  return toFrame(frame, lon, lat);
}

function pixels(raster: Raster): { cols: number[]; rows: number[] } {
  const n = raster.width * raster.height;
  return {
    cols: Array.from({ length: n }, (_, k) => (k % raster.width) + 0.5),
    rows: Array.from({ length: n }, (_, k) => Math.floor(k / raster.width) + 0.5),
  };
}

const largest = (values: Iterable<number>) => {
  let most = 0;
  for (const value of values) most = Math.max(most, Number.isNaN(value) ? Infinity : Math.abs(value));
  return most;
};

describe('the part of a convex polygon in a box', () => {
  it('is cut by hand', () => {
    const clip = convexInBox(4);
    // A square of side 2 standing on its corner: area 2, one fourth in each quadrant.
    const diamond = [0, -1, 1, 0, 0, 1, -1, 0];
    clip.load(diamond, 4);
    clip.band(0, 5);
    expect(clip.areaBetween(0, 5)).toBeCloseTo(0.5, 15);
    expect(clip.areaBetween(-5, 5)).toBeCloseTo(1, 15);
    expect(clip.areaBetween(0, 0.5)).toBeCloseTo(0.375, 15);
    expect(clip.areaBetween(2, 3)).toBe(0);
    clip.band(3, 4);
    expect(clip.areaBetween(-5, 5)).toBe(0);
  });
  it('adds up over boxes to the whole, whichever way round', () => {
    const dice = random(5);
    for (let round = 0; round < 200; round++) {
      // Points on an ellipse in order are convex.
      const angles = Array.from({ length: 4 }, () => 2 * Math.PI * dice.uniform()).sort((p, q) => p - q);
      if (round % 2) angles.reverse();
      const quad = angles.flatMap((t) => [2.5 + 2.3 * Math.cos(t), 2.5 + 1.7 * Math.sin(t)]);
      const clip = convexInBox(4);
      clip.load(quad, 4);
      let sum = 0;
      for (let row = 0; row < 5; row++) {
        clip.band(row, row + 1);
        for (let col = 0; col < 5; col++) sum += clip.areaBetween(col, col + 1);
      }
      expect(sum).toBeCloseTo(convexArea(quad, 4), 12);
    }
  });
});

describe('rasterMeans', () => {
  it('averages whole pixels in a cell of four, leaving out the one that is not known', () => {
    // In a plane so near the frame's own that a pixel is a metre to 1e-6: an equal-area system centred on the field.
    const crs: Crs = {
      code: 'custom',
      name: 'the frame itself',
      proj4: '+proj=laea +lat_0=42 +lon_0=-93.5 +x_0=0 +y_0=0 +ellps=WGS84 +units=m +no_defs',
    };
    const grid = square(40, 20);
    const raster: Raster = { width: 4, height: 4, transform: [10, 0, -20, 0, -10, 20] };
    const values = Float64Array.of(
      ...[1, 2, 10, 10],
      ...[3, 4, 10, NaN],
      ...[NaN, NaN, 5, NaN],
      ...[NaN, 7, NaN, 7],
    );
    const { values: means, support } = rasterMeans(grid, FRAME, raster, crs, values);
    // Row 0 of the grid is the southern one. One known pixel of four is less than half: not known.
    expect(Number.isNaN(means[0])).toBe(true);
    expect(means[1]).toBeCloseTo(6, 6);
    expect(means[2]).toBeCloseTo(2.5, 6);
    expect(means[3]).toBeCloseTo(10, 6);
    [100, 200, 400, 300].forEach((area, cell) => {
      expect(support[cell]).toBeCloseTo(area, 3);
    });
  });

  it.each([
    ['UTM 10 m', UTM15, 10, 0],
    ['UTM 10 m turned by 17°', UTM15, 10, 17],
    ['state plane feet', IOWA_FT, 25, 5],
    ['degrees', WGS84, 0.0001, 0],
    ['UTM 3 m', UTM15, 3, 40],
  ])('equals the means of polygons laid over the grid, %s', (_, crs, pixel, turned) => {
    const grid = square(200, 9.144, 33);
    const across = crs === WGS84 ? 45 : Math.ceil(400 / (crs === IOWA_FT ? 0.3048 * pixel : pixel));
    const raster = rasterAround(crs, pixel, across, across, turned);
    const dice = random(3);
    const values = Float64Array.from({ length: across * across }, () =>
      dice.uniform() < 0.2 ? NaN : 100 * dice.uniform(),
    );
    const regions = Array.from(values, (value, k) => {
      const [col, row] = [k % across, Math.floor(k / across)];
      // Counter-clockwise in the frame: rows run south.
      const { x, y } = placed(FRAME, raster, crs, [col, col, col + 1, col + 1], [row, row + 1, row + 1, row]);
      return {
        region: [{ outer: Float64Array.from([0, 1, 2, 3].flatMap((i) => [x[i], y[i]])), holes: [] }],
        value,
      };
    });
    const means = rasterMeans(grid, FRAME, raster, crs, values);
    const expected = areaShareMeans(grid, regions);
    let compared = 0;
    for (let cell = 0; cell < expected.length; cell++) {
      // Beside the field's edge that one may see more of the cell than the threshold of half of it.
      if (grid.area[cell] < 0.999 * grid.cell_m ** 2) continue;
      expect(Number.isNaN(means.values[cell])).toBe(Number.isNaN(expected[cell]));
      if (Number.isNaN(expected[cell])) continue;
      // Corners are drawn straight over 64 m, which moves them by less than a millimetre in 9 m, of values up to 100.
      expect(Math.abs(means.values[cell] - expected[cell])).toBeLessThan(1e-3);
      compared++;
    }
    expect(compared).toBeGreaterThan(300);
  });

  it('covers every cell by its whole area', () => {
    for (const [crs, pixel] of [
      [UTM15, 10],
      [UTM15, 1.3],
      [UTM15, 100],
      [IOWA_FT, 40],
    ] as const) {
      const grid = square(150, 7, 20);
      const across = Math.ceil(700 / (crs === IOWA_FT ? pixel * 0.3048 : pixel));
      const { support } = rasterMeans(
        grid,
        FRAME,
        rasterAround(crs, pixel, across, across, 12),
        crs,
        new Float64Array(across * across).fill(1),
      );
      // The pixels lie side by side, corner on corner: what they cover is the cell, whatever their projection.
      expect(largest(support.map((area) => area / 49 - 1))).toBeLessThan(1e-9);
    }
  });

  it('gives a plane back at the middle of the cells', () => {
    // Cells cut pixels: a piece of a pixel carries the pixel's value, so up to half a pixel's rise (0.02 · 5 m + 0.01 · 5 m) may be missing.
    const grid = square(300, 9.144, 25);
    const raster = rasterAround(UTM15, 10, 60, 60);
    const { cols, rows } = pixels(raster);
    const { x, y } = placed(FRAME, raster, UTM15, cols, rows);
    const plane = (px: number, py: number) => 5 + 0.02 * px - 0.01 * py;
    const means = rasterMeans(
      grid,
      FRAME,
      raster,
      UTM15,
      x.map((own, i) => plane(own, y[i])),
    );
    expect(largest(means.values.map((own, k) => own - plane(grid.x[k], grid.y[k])))).toBeLessThan(0.15);
    // Fine pixels leave next to nothing of that.
    const fine = rasterAround(UTM15, 0.5, 800, 800);
    const at = pixels(fine);
    const place = placed(FRAME, fine, UTM15, at.cols, at.rows);
    const fineMeans = rasterMeans(
      grid,
      FRAME,
      fine,
      UTM15,
      place.x.map((own, i) => plane(own, place.y[i])),
    );
    expect(largest(fineMeans.values.map((own, k) => own - plane(grid.x[k], grid.y[k])))).toBeLessThan(0.0075);
    // A constant is a constant.
    const same = rasterMeans(grid, FRAME, raster, UTM15, new Float64Array(3600).fill(7));
    expect(largest(same.values.map((own) => own - 7))).toBeLessThan(1e-12);
  });

  it('lets nothing of a pixel without data into any mean', () => {
    const grid = square(200, 9.144, 10);
    const raster = rasterAround(UTM15, 10, 40, 40);
    const values = new Float64Array(1600).fill(50);
    for (let k = 0; k < 1600; k += 7) values[k] = NaN;
    const { values: means } = rasterMeans(grid, FRAME, raster, UTM15, values);
    expect(means.filter(Number.isFinite).length).toBeGreaterThan(400);
    expect(largest(means.filter(Number.isFinite).map((own) => own - 50))).toBeLessThan(1e-12);
    const none = rasterMeans(grid, FRAME, raster, UTM15, new Float64Array(1600).fill(NaN));
    expect(none.values.every(Number.isNaN)).toBe(true);
    expect(largest(none.support)).toBe(0);
  });

  it('knows the edge cells of a field whose raster ends at its border', () => {
    const grid = square(95, 10);
    const raster = rasterAround(UTM15, 95 / 38, 38, 38);
    const { values } = rasterMeans(grid, FRAME, raster, UTM15, new Float64Array(38 * 38).fill(3));
    expect(largest(values.map((own) => own - 3))).toBeLessThan(1e-12);
  });

  it('is not known where the raster lies elsewhere', () => {
    const grid = square(100, 10);
    const far: Raster = { width: 10, height: 10, transform: [10, 0, 700000, 0, -10, 4700000] };
    const { values } = rasterMeans(grid, FRAME, far, UTM15, new Float64Array(100).fill(1));
    expect(values.every(Number.isNaN)).toBe(true);
  });
});

describe('pixelsOver', () => {
  it('finds the pixels under a place, a few more all round, none outside the raster', () => {
    const raster: Raster = { width: 360, height: 180, transform: [1, 0, -180, 0, -1, 90] };
    const at = (lon: number, lat: number) =>
      pixelsOver(raster, WGS84, Float64Array.of(lon), Float64Array.of(lat), 2);
    expect(at(-93.5, 42.5)).toEqual({ col: 84, row: 45, width: 5, height: 5 });
    expect(at(-179.5, 89.5)).toEqual({ col: 0, row: 0, width: 3, height: 3 });
    const east: Raster = { width: 360, height: 180, transform: [1, 0, 0, 0, -1, 90] };
    expect(pixelsOver(east, WGS84, Float64Array.of(-93.5), Float64Array.of(42.5), 0)).toEqual({
      col: 266,
      row: 47,
      width: 1,
      height: 1,
    });
    expect(
      pixelsOver({ ...raster, width: 10 }, WGS84, Float64Array.of(-93.5), Float64Array.of(42.5), 2),
    ).toBe(null);
  });
  it('inverts coordinates through every kind of system', () => {
    const { lon, lat } = toLonLat(FRAME, Float64Array.of(0, 300, -800), Float64Array.of(0, -500, 20));
    for (const crs of [UTM15, IOWA_FT, WGS84, crsFromEpsg(3857) as Crs, crsFromEpsg(5070) as Crs]) {
      const { x, y } = lonLatToCrs(crs, lon, lat);
      const back = crsToLonLat(crs, x, y);
      // 1e-9 degrees are a tenth of a millimetre.
      expect(largest(back.lon.map((own, i) => own - lon[i]))).toBeLessThan(1e-9);
      expect(largest(back.lat.map((own, i) => own - lat[i]))).toBeLessThan(1e-9);
    }
  });
});
