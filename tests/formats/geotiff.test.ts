import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { zlibSync } from 'fflate';
import initGdalJs, { type Gdal } from 'gdal3.js/node.js';
import { fromArrayBuffer } from 'geotiff';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { crsFromEpsg, crsToLonLat } from '../../src/engine/geodesy/crs.ts';
import type { Source } from '../../src/engine/layers/source.ts';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import type { ReadOptions } from '../../src/formats/format.ts';
import { unpackLzw } from '../../src/formats/geotiff/lzw.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { missing, openData } from './open-data.ts';
import {
  changed,
  type Entry,
  floats,
  IN_UTM,
  layout,
  lzw,
  packBits,
  shorts,
  smallTif,
  TIF_SEEDS,
  type TifShape,
  tifFile,
} from './tif-seeds.ts';

async function read(file: FileBytes, options: ReadOptions = {}): Promise<Source> {
  const { sources, issues } = await readFiles([file], options);
  expect(issues).toEqual([]);
  const aside = Object.values(sources[0].ledger.setAside).reduce((sum, n) => sum + n, 0);
  expect(sources[0].ledger.used + aside).toBe(sources[0].ledger.read);
  expect(sources[0].records).toBe((sources[0].raster?.width ?? 0) * (sources[0].raster?.height ?? 0));
  return sources[0];
}

/** The code a file is refused with, in less than a second. */
async function refusal(file: FileBytes): Promise<string> {
  const started = performance.now();
  const { sources, issues } = await readFiles([file]);
  expect(performance.now() - started).toBeLessThan(1000);
  expect(sources).toEqual([]);
  expect(issues).toHaveLength(1);
  for (const part of Object.values(issues[0])) expect(part).not.toBe('');
  return issues[0].code;
}

/** Values of a band, of all pixels or of the first ones. */
const valuesOf = (source: Source, band = 0, most = Infinity) => {
  const column = source.columns[band];
  return column.kind === 'number' ? [...column.values.subarray(0, Math.min(most, column.values.length))] : [];
};
const codes = (source: Source) => source.issues.map(({ code }) => code);
const TWELVE = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];

describe('a small GeoTIFF', () => {
  it.each<[string, TifShape]>([
    ['low byte first', {}],
    ['high byte first', { little: false }],
    ['BigTIFF', { big: true }],
    ['BigTIFF, high byte first', { big: true, little: false }],
  ])('is read: %s', async (_, shape) => {
    const source = await read(smallTif(undefined, [], shape));
    expect(source).toMatchObject({ shape: 'raster', format: 'geotiff', records: 12, rings: [] });
    expect(source.crs?.code).toBe('EPSG:32615');
    expect(source.raster).toEqual({ width: 4, height: 3, transform: [10, 0, 458000, 0, -10, 4649030] });
    expect(source.columns.map(({ name }) => name)).toEqual(['band 1']);
    expect(valuesOf(source)).toEqual(TWELVE);
    expect(source.issues).toEqual([]);
  });

  it('of several bands, named by the file, pixel by pixel or band by band', async () => {
    const names = [0, 1]
      .map(
        (k) =>
          `<Item name="DESCRIPTION" sample="${k}" role="description">${['clay &amp; silt', 'sand'][k]}</Item>`,
      )
      .join('');
    const more: Entry = [42112, 'ascii', `<GDALMetadata>${names}</GDALMetadata>`];
    const together = tifFile([
      {
        entries: [...layout(2, 2, 16, 2, 2), ...IN_UTM, more],
        blocks: [shorts([1, -1, 2, -2, 3, -3, 4, -4])],
      },
    ]);
    const apart = tifFile([
      {
        entries: [...layout(2, 2, 16, 2, 2), ...IN_UTM, more, [284, 'short', [2]]],
        blocks: [shorts([1, 2, 3, 4]), shorts([-1, -2, -3, -4])],
      },
    ]);
    for (const file of [together, apart]) {
      const source = await read(file);
      expect(source.columns.map(({ name }) => name)).toEqual(['clay & silt', 'sand']);
      expect([valuesOf(source), valuesOf(source, 1)]).toEqual([
        [1, 2, 3, 4],
        [-1, -2, -3, -4],
      ]);
    }
  });

  it.each<[string, (bytes: Uint8Array) => Uint8Array, number]>([
    ['Deflate', (bytes) => zlibSync(bytes), 8],
    ['old Deflate', (bytes) => zlibSync(bytes), 32946],
    ['LZW', lzw, 5],
    ['PackBits', packBits, 32773],
  ])('is unpacked: %s', async (_, pack, compression) => {
    const entries = changed(
      [...layout(4, 3, 32, 3), ...IN_UTM],
      [259, 'short', [compression]],
      [278, 'long', [2]],
    );
    const blocks = [floats(TWELVE.slice(0, 8)), floats(TWELVE.slice(8))].map(pack);
    expect(valuesOf(await read(tifFile([{ entries, blocks }])))).toEqual(TWELVE);
  });

  it('scales stored numbers as the file says, no data compared before', async () => {
    const source = await read(TIF_SEEDS['a GeoTIFF'][0]);
    expect(valuesOf(source)).toEqual(TWELVE.map((value) => value / 2));
    expect(codes(source)).toEqual(['tif-scaled']);
    const xml = '<Item name="OFFSET" sample="0" role="offset">100</Item>';
    const blank = await read(
      smallTif(
        [...TWELVE.slice(0, 11), -9999],
        [
          [42112, 'ascii', xml],
          [42113, 'ascii', '-9999'],
        ],
      ),
    );
    expect(valuesOf(blank)).toEqual([...TWELVE.slice(0, 11).map((value) => value + 100), NaN]);
    expect(await refusal(smallTif(TWELVE, [[42112, 'ascii', xml.replace('100', 'ten')]]))).toBe(
      'tif-structure',
    );
  });

  it('leaves blocks out as not known, and pixels under a mask or without opacity', async () => {
    const entries = changed([...layout(4, 3, 32, 3), ...IN_UTM], [278, 'long', [1]]);
    const sparse = await read(
      tifFile([{ entries, blocks: [floats([1, 2, 3, 4]), null, floats([9, 8, 7, 6])] }]),
    );
    expect(valuesOf(sparse)).toEqual([1, 2, 3, 4, NaN, NaN, NaN, NaN, 9, 8, 7, 6]);
    expect(sparse.ledger).toEqual({ read: 12, used: 8, repaired: 0, setAside: { 'no-data': 4 } });
    const mask = changed(layout(4, 3, 1, 1), [254, 'long', [4]]);
    const masked = await read(
      tifFile([
        { entries: [...layout(4, 3, 32, 3), ...IN_UTM], blocks: [floats(TWELVE)] },
        { entries: mask, blocks: [Uint8Array.of(0xf0, 0x60, 0x00)] },
      ]),
    );
    expect(valuesOf(masked)).toEqual([1, 2, 3, 4, NaN, 6, 7, NaN, NaN, NaN, NaN, NaN]);
    const opaque = await read(
      tifFile([
        {
          entries: [...layout(2, 1, 16, 1, 2), ...IN_UTM, [338, 'short', [2]]],
          blocks: [shorts([500, 1000, 0, 0])],
        },
      ]),
    );
    expect(opaque.columns).toHaveLength(1);
    expect(valuesOf(opaque)).toEqual([500, NaN]);
  });

  it('takes neither overviews nor further images for data', async () => {
    const source = await read(TIF_SEEDS['a tiled GeoTIFF, packed, with an overview and a mask'][0]);
    expect(source.records).toBe(240);
    expect(source.issues).toEqual([]);
    const first = { entries: [...layout(4, 3, 32, 3), ...IN_UTM], blocks: [floats(TWELVE)] };
    const small = { entries: changed(layout(2, 1, 32, 3), [254, 'long', [1]]), blocks: [floats([50, 60])] };
    // An overview before its image is still an overview.
    expect(valuesOf(await read(tifFile([small, first])))).toEqual(TWELVE);
    expect(codes(await read(tifFile([first, first])))).toEqual(['tif-more-images']);
  });

  it('reads half floats, single bits and signed bytes', async () => {
    const with8 = (bits: number, kind: number, bytes: number[]) =>
      read(
        tifFile([{ entries: [...layout(4, 1, bits, kind), ...IN_UTM], blocks: [Uint8Array.from(bytes)] }]),
      );
    // IEEE 754 binary16: 1, −2, 65504 (the largest), 2^−24 (the smallest).
    expect(valuesOf(await with8(16, 3, [0x00, 0x3c, 0x00, 0xc0, 0xff, 0x7b, 0x01, 0x00]))).toEqual([
      1,
      -2,
      65504,
      2 ** -24,
    ]);
    expect(valuesOf(await with8(1, 1, [0b10110000]))).toEqual([1, 0, 1, 1]);
    expect(valuesOf(await with8(2, 1, [0b11011000]))).toEqual([3, 1, 2, 0]);
    expect(valuesOf(await with8(4, 1, [0x1f, 0x20]))).toEqual([1, 15, 2, 0]);
    expect(valuesOf(await with8(8, 2, [0xff, 0x01, 0x80, 0x7f]))).toEqual([-1, 1, -128, 127]);
  });
});

describe('LZW', () => {
  it('unpacks the example of TIFF 6.0, section 13', () => {
    // 7 7 7 8 8 7 7 6 6 is coded 256 7 258 8 8 258 6 6 257 there.
    const bits = [256, 7, 258, 8, 8, 258, 6, 6, 257]
      .map((code) => code.toString(2).padStart(9, '0'))
      .join('');
    const packed = Uint8Array.from(bits.padEnd(88, '0').match(/.{8}/g) ?? [], (byte) =>
      Number.parseInt(byte, 2),
    );
    const out = new Uint8Array(9);
    expect(unpackLzw(packed, out)).toBe(9);
    expect([...out]).toEqual([7, 7, 7, 8, 8, 7, 7, 6, 6]);
  });
  it('ends at codes that cannot be, and never beyond the room it has', () => {
    const out = new Uint8Array(100);
    for (let k = 0; k < 3000; k++) {
      const packed = Uint8Array.from(
        { length: 400 },
        (_, i) => (Math.imul(i + 1, 2654435761 + k) >>> 11) & 255,
      );
      packed[0] = 0x80;
      expect(unpackLzw(packed, out)).toBeLessThanOrEqual(100);
    }
  });
});

describe('bad GeoTIFFs', () => {
  it('T01: a directory that leads back to itself or to an earlier one', async () => {
    const file = smallTif();
    const view = new DataView(file.bytes.buffer);
    const at = view.getUint32(4, true);
    view.setUint32(at + 2 + 12 * view.getUint16(at, true), at, true);
    expect(await refusal(file)).toBe('tif-ifd-loop');
    const big = smallTif(undefined, [], { big: true });
    const own = new DataView(big.bytes.buffer);
    const start = Number(own.getBigUint64(8, true));
    own.setBigUint64(start + 8 + 20 * Number(own.getBigUint64(start, true)), BigInt(start), true);
    expect(await refusal(big)).toBe('tif-ifd-loop');
  });
  it('T02: 100,000 by 100,000 pixels in 300 bytes, refused before anything is set aside for them', async () => {
    const before = process.memoryUsage().rss;
    const huge: Entry[] = [
      [256, 'long', [100000]],
      [257, 'long', [100000]],
      [278, 'long', [100000]],
    ];
    const { issues } = await readFiles([smallTif(undefined, huge)]);
    expect(issues.map(({ code }) => code)).toEqual(['tif-too-large']);
    expect(issues[0].found).toContain('40 GB');
    expect(await refusal(smallTif(undefined, [...huge, [259, 'short', [8]]]))).toBe('tif-too-large');
    // In strips of one row there are not the strips for it.
    expect(await refusal(smallTif(undefined, [...huge, [278, 'long', [1]]]))).toBe('tif-truncated');
    expect(process.memoryUsage().rss - before).toBeLessThan(200e6);
  });
  it('T02: a packed strip said to hold more than packing can', async () => {
    const entries = changed([...layout(4000, 4000, 32, 3), ...IN_UTM], [259, 'short', [8]]);
    expect(await refusal(tifFile([{ entries, blocks: [zlibSync(floats(TWELVE))] }]))).toBe('tif-truncated');
  });
  it('T03: a strip beyond the end of the file', async () => {
    expect(
      await refusal(
        smallTif(undefined, [
          [273, 'long', [9000000]],
          [279, 'long', [48]],
        ]),
      ),
    ).toBe('tif-truncated');
    expect(
      await refusal(
        smallTif(undefined, [
          [273, 'long', [8]],
          [279, 'long', [4000]],
        ]),
      ),
    ).toBe('tif-truncated');
  });
  it('T04: an encoding that is not read, by name', async () => {
    const told = async (...entries: Entry[]) => {
      const { issues } = await readFiles([smallTif(undefined, entries)]);
      expect(issues.map(({ code }) => code)).toEqual(['tif-encoding']);
      return issues[0].found;
    };
    expect(await told([259, 'short', [777]])).toContain('777');
    expect(await told([259, 'short', [50000]])).toContain('Zstandard');
    expect(await told([258, 'short', [37]])).toContain('37 bits');
    expect(await told([339, 'short', [6]])).toContain('sample format 6');
    expect(await told([259, 'short', [5]], [317, 'short', [9]])).toContain('predictor 9');
  });
  it('T05: no place on the ground', async () => {
    const nowhere = [33550, 33922, 34735].map((tag): [number, null] => [tag, null]);
    expect(await refusal(smallTif(undefined, nowhere))).toBe('tif-no-place');
    expect(await refusal(smallTif(undefined, [[33550, null]]))).toBe('tif-no-place');
    const points = [0, 0, 0, 5, 5, 0, 4, 0, 0, 45, 5, 0, 0, 3, 0, 5, -25, 0];
    expect(
      await refusal(
        smallTif(undefined, [
          [33550, null],
          [33922, 'double', points],
        ]),
      ),
    ).toBe('tif-no-place');
    expect(await refusal(smallTif(undefined, [[33550, 'double', [0, 0, 0]]]))).toBe('tif-no-place');
    expect(await refusal(smallTif(undefined, [[33550, 'double', [NaN, 1, 0]]]))).toBe('tif-no-place');
  });
  it('T05: no coordinate system asks for one, and takes the one given', async () => {
    const file = smallTif(undefined, [[34735, null]]);
    const asks = await read(file);
    expect([asks.crs, codes(asks)]).toEqual([null, ['crs-missing']]);
    const crs = crsFromEpsg(32615);
    expect((await read(file, crs ? { crs } : {})).crs?.code).toBe('EPSG:32615');
  });
  it('T06: no size', async () => {
    expect(await refusal(smallTif(undefined, [[256, 'long', [0]]]))).toBe('tif-no-size');
    expect(await refusal(smallTif(undefined, [[257, null]]))).toBe('tif-no-size');
    expect(
      await refusal(
        smallTif(undefined, [
          [322, 'long', [0]],
          [323, 'long', [16]],
        ]),
      ),
    ).toBe('tif-no-size');
  });
  it('T07: numbers for no data that are declared, or that nothing else could be', async () => {
    const last = (value: number) => [...TWELVE.slice(0, 11), value];
    const blank = [...TWELVE.slice(0, 11), NaN];
    for (const [text, stored] of [
      ['-9999', -9999],
      ['nan', NaN],
      ['-3.4028234663852886e+38', Math.fround(-3.4028234663852886e38)],
      ['0.1', Math.fround(0.1)],
    ] as const) {
      const source = await read(smallTif(last(stored), [[42113, 'ascii', text]]));
      expect(valuesOf(source)).toEqual(blank);
      expect(source.issues).toEqual([]);
      expect(source.ledger.setAside).toEqual({ 'no-data': 1 });
    }
    for (const stored of [-9999, -3.4e38, 3.4e38, -32768]) {
      const source = await read(smallTif(last(stored)));
      expect(valuesOf(source)).toEqual(blank);
      expect(codes(source)).toEqual(['tif-nodata-assumed']);
    }
    // An infinite number is not known either; one that fits in with the rest stays, and so does one never used for no data.
    expect(valuesOf(await read(smallTif(last(Infinity))))).toEqual(blank);
    expect(valuesOf(await read(smallTif(last(-77))))).toEqual(last(-77));
    const deep = TWELVE.map((value) => -1000 + 50 * value);
    const among = await read(smallTif([...deep.slice(0, 11), -999]));
    expect(valuesOf(among)[11]).toBe(-999);
    expect(among.issues).toEqual([]);
    const nothing = await read(smallTif(TWELVE.map(() => -9999)));
    expect(codes(nothing)).toEqual(['tif-nodata-assumed', 'tif-all-no-data']);
    expect(codes(await read(smallTif(TWELVE.map(() => 0))))).toEqual(['tif-one-value']);
  });
  it('T09: pixels that run another way are placed as the file says', async () => {
    const matrix = [8, 6, 0, 458000, 6, -8, 0, 4649030, 0, 0, 0, 0, 0, 0, 0, 1];
    const turned = await read(
      smallTif(undefined, [
        [33550, null],
        [33922, null],
        [34264, 'double', matrix],
      ]),
    );
    expect(turned.raster?.transform).toEqual([8, 6, 458000, 6, -8, 4649030]);
    const southUp = await read(smallTif(undefined, [[33550, 'double', [10, -10, 0]]]));
    expect(southUp.raster?.transform).toEqual([10, 0, 458000, 0, 10, 4649030]);
    expect(codes(southUp)).toEqual(['tif-south-up']);
    const tied = await read(smallTif(undefined, [[33922, 'double', [2, 1, 0, 458020, 4649020, 0]]]));
    expect(tied.raster?.transform).toEqual([10, 0, 458000, 0, -10, 4649030]);
  });
  it('T09: a point in the middle of its pixel is moved by half of one', async () => {
    const keys = [1, 1, 0, 3, 1024, 0, 1, 1, 1025, 0, 1, 2, 3072, 0, 1, 32615];
    const point = await read(smallTif(undefined, [[34735, 'short', keys]]));
    expect(point.raster?.transform).toEqual([10, 0, 457995, 0, -10, 4649035]);
  });
  it('T10: a picture instead of values', async () => {
    const picture = (samples: number, photometric: number) =>
      tifFile([
        {
          entries: changed([...layout(2, 2, 8, 1, samples), ...IN_UTM], [262, 'short', [photometric]]),
          blocks: [new Uint8Array(4 * samples)],
        },
      ]);
    expect(await refusal(picture(3, 2))).toBe('tif-picture');
    expect(await refusal(picture(4, 2))).toBe('tif-picture');
    expect(await refusal(picture(3, 6))).toBe('tif-picture');
    expect((await read(picture(5, 2))).columns).toHaveLength(5);
    expect(codes(await read(picture(1, 3)))).toContain('tif-classes');
  });
  it('on NAD27 is refused until its mean shift is accepted', async () => {
    const file = smallTif(undefined, [
      [34735, 'short', [1, 1, 0, 3, 1024, 0, 1, 1, 1025, 0, 1, 1, 3072, 0, 1, 26715]],
    ]);
    const refused = await read(file);
    expect([refused.crs, codes(refused)]).toEqual([null, ['crs-nad27']]);
    const taken = await read(file, { acceptNad27: true });
    expect([taken.crs?.code, codes(taken)]).toEqual(['EPSG:26715', ['crs-nad27-mean-shift']]);
  });
  it('T11: systems by code, by parameters, in feet, and those not known here', async () => {
    const system = async (keys: number[], ascii = '', doubles: number[] = []) => {
      const more: Entry[] = [[34735, 'short', [1, 1, 0, keys.length / 4, ...keys]]];
      if (ascii) more.push([34737, 'ascii', ascii]);
      if (doubles.length) more.push([34736, 'double', doubles]);
      return read(smallTif(undefined, more));
    };
    const projected = [1024, 0, 1, 1];
    const user = [...projected, 3072, 0, 1, 32767];
    expect((await system([...projected, 3072, 0, 1, 26915])).crs?.code).toBe('EPSG:26915');
    expect((await system([...projected, 3072, 0, 1, 3417])).crs?.proj4).toContain('to_meter');
    // The registry's projection 16015 is UTM zone 15 north; datum by its own code, 6326.
    expect((await system([...user, 2048, 0, 1, 32767, 2050, 0, 1, 6326, 3074, 0, 1, 16015])).crs?.code).toBe(
      'EPSG:32615',
    );
    const tm = [2048, 0, 1, 4269, 3074, 0, 1, 32767, 3075, 0, 1, 1];
    const doubles = [0, -93, 0.9996, 500000, 0];
    const where = [3081, 3080, 3092, 3082, 3083].flatMap((key, i) => [key, 34736, 1, i]);
    expect((await system([...user, ...tm, ...where], '', doubles)).crs?.code).toBe('EPSG:26915');
    for (const bad of [
      [...projected, 3072, 0, 1, 26711],
      [1024, 0, 1, 3],
      [...user, 2048, 0, 1, 4326, 3074, 0, 1, 32767, 3075, 0, 1, 27],
      [...projected, 3072, 0, 1, 32615, 3076, 0, 1, 9003],
    ]) {
      const source = await system(bad);
      expect(source.crs).toBe(null);
      expect(source.issues.map(({ severity }) => severity)).toContain('error');
    }
    const shifted = await system([...user, ...tm, ...where, 2062, 34736, 3, 5], '', [...doubles, 1, 2, 3]);
    expect(shifted.crs).toBe(null);
  });
  it('T12: cut at any byte', async () => {
    for (const [file] of Object.values(TIF_SEEDS)) {
      for (let n = 0; n < file.bytes.length; n += 3) {
        const { sources, issues } = await readFiles([{ ...file, bytes: file.bytes.subarray(0, n) }]);
        expect(sources.length + issues.length).toBe(1);
        // What is still whole in front of the cut may be read; a directory that is not there may not.
        if (sources.length) expect(n).toBeGreaterThan(file.bytes.length - 12);
      }
    }
  });
  it('T12: packed data that end too soon or make no sense', async () => {
    const packed = zlibSync(floats(TWELVE));
    for (const bytes of [packed.subarray(0, packed.length - 12), packed.map((byte) => byte ^ 0x55)]) {
      const entries = changed([...layout(4, 3, 32, 3), ...IN_UTM], [259, 'short', [8]]);
      expect(await refusal(tifFile([{ entries, blocks: [bytes] }]))).toBe('tif-damaged');
    }
  });
});

describe('part of a large raster', () => {
  /** Column number plus thousand times row number, tiles of 256. */
  function ramp(width: number, height: number, more: Entry[] = []): FileBytes {
    const [across, down] = [Math.ceil(width / 256), Math.ceil(height / 256)];
    const blocks = Array.from({ length: across * down }, (_, k) => {
      const tile = new Float32Array(256 * 256);
      const [col, row] = [256 * (k % across), 256 * Math.floor(k / across)];
      for (let i = 0; i < tile.length; i++) tile[i] = col + (i % 256) + 1000 * (row + Math.floor(i / 256));
      return zlibSync(new Uint8Array(tile.buffer), { level: 1 });
    });
    const entries = changed(
      [...layout(width, height, 32, 3), ...IN_UTM, ...more],
      [259, 'short', [8]],
      [278, null],
      [322, 'short', [256]],
      [323, 'short', [256]],
    );
    return tifFile([{ entries, blocks }]);
  }

  it('is read over the window only, a few pixels more, where it lies', async () => {
    const file = ramp(700, 600);
    const crs = crsFromEpsg(32615);
    if (!crs) throw new Error('no system');
    // Ground of columns 300 to 340, rows 250 to 280.
    const { lon, lat } = crsToLonLat(crs, Float64Array.of(461000, 461400), Float64Array.of(4646230, 4646530));
    const window = { west: lon[0], east: lon[1], south: lat[0], north: lat[1] };
    const source = await read(file, { window });
    expect(codes(source)).toEqual(['tif-window']);
    const { width, height, transform } = source.raster ?? {
      width: 0,
      height: 0,
      transform: [0, 0, 0, 0, 0, 0],
    };
    expect(width).toBeLessThan(60);
    expect(height).toBeLessThan(50);
    const [col, row] = [(transform[2] - 458000) / 10, (4649030 - transform[5]) / 10];
    expect(col).toBeGreaterThan(290);
    expect(col).toBeLessThanOrEqual(296);
    expect(valuesOf(source)[0]).toBe(col + 1000 * row);
    expect(valuesOf(source).at(-1)).toBe(col + width - 1 + 1000 * (row + height - 1));
    const { issues } = await readFiles([file], { window: { west: 10, east: 10.1, south: 50, north: 50.1 } });
    expect(issues.map(({ code }) => code)).toEqual(['tif-outside-window']);
  });

  it('is read thinner when whole, each pixel where it was taken', async () => {
    // 6,000 by 4,000 of bytes: 24 M, more than 16.8 M.
    const row = (y: number) => Uint8Array.from({ length: 6000 }, (_, x) => (x + y) % 200);
    const strips = Array.from({ length: 40 }, (_, s) => {
      const strip = new Uint8Array(600000);
      for (let y = 0; y < 100; y++) strip.set(row(100 * s + y), 6000 * y);
      return zlibSync(strip, { level: 1 });
    });
    const entries = changed(
      [...layout(6000, 4000, 8, 1), ...IN_UTM],
      [259, 'short', [8]],
      [278, 'long', [100]],
    );
    const source = await read(tifFile([{ entries, blocks: strips }]));
    expect(codes(source)).toEqual(['tif-thinned']);
    expect(source.raster).toEqual({ width: 3000, height: 2000, transform: [20, 0, 458005, 0, -20, 4649025] });
    // Pixel (1, 1) of each two by two is taken: its middle, 15 m in, is the middle of the wider pixel.
    expect(valuesOf(source, 0, 3)).toEqual([2, 4, 6]);
    const half = { entries: changed(layout(3000, 2000, 8, 1), [254, 'long', [1]], [259, 'short', [8]]) };
    const overview = zlibSync(new Uint8Array(6000000).map((_, i) => i % 7));
    const with2 = await read(
      tifFile([
        { entries, blocks: strips },
        { ...half, blocks: [overview] },
      ]),
    );
    expect(with2.raster).toEqual({ width: 3000, height: 2000, transform: [20, 0, 458000, 0, -20, 4649030] });
    expect(valuesOf(with2, 0, 8)).toEqual([0, 1, 2, 3, 4, 5, 6, 0]);
  });
});

// A third reader, geotiff 3.0.5, on sound files only: it never ends on some damaged ones, and undoes differences of two bytes in one byte order.
describe('against another reader', () => {
  it.each(Object.keys(TIF_SEEDS))('has the same stored numbers: %s', async (name) => {
    const [file] = TIF_SEEDS[name];
    const image = await (await fromArrayBuffer(file.bytes.slice().buffer)).getImage(0);
    const [theirs] = await image.readRasters({ interleave: false });
    const source = await read(file);
    const scale = source.issues.some(({ code }) => code === 'tif-scaled') ? 2 : 1;
    valuesOf(source).forEach((value, i) => {
      // What a mask hides here is stored all the same.
      if (!Number.isNaN(value)) expect(value * scale).toBe(Number(theirs[i]));
    });
    expect(source.ledger.used).toBeGreaterThan(0);
  });
});

/** GDAL 3.x compiled to WebAssembly (gdal3.js 2.8.1), its stored numbers as 64-bit floating point. */
describe('against GDAL', () => {
  let gdal: Gdal;
  const folder = mkdtempSync(join(tmpdir(), 'eachacre-tif-'));
  beforeAll(async () => {
    gdal = await initGdalJs({
      path: 'node_modules/gdal3.js/dist/package',
      logHandler: () => {},
      errorHandler: () => {},
    });
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  let made = 0;
  /** Opens a file under a name not yet taken: GDAL keeps what it wrote under the name of what it read. */
  async function open(file: FileBytes): Promise<object> {
    const path = join(folder, `${made++}.tif`);
    writeFileSync(path, file.bytes);
    const { datasets, errors } = await gdal.open([path]);
    expect(errors).toEqual([]);
    return datasets[0];
  }

  async function translated(dataset: object, ...options: string[]): Promise<Uint8Array> {
    return (await gdal.getFileBytes(await gdal.gdal_translate(dataset, options, `out${made++}`))).slice();
  }

  async function byGdal(file: FileBytes) {
    const dataset = await open(file);
    const info = await gdal.getInfo(dataset);
    // ENVI takes no turned raster: the numbers are wanted, wherever they lie.
    const anywhere = ['-a_ullr', '0', String(info.height), String(info.width), '0'];
    const bytes = await translated(
      dataset,
      '-of',
      'ENVI',
      '-ot',
      'Float64',
      '-co',
      'INTERLEAVE=BSQ',
      ...anywhere,
    );
    return { info, values: new Float64Array(bytes.buffer) };
  }

  /** Same place, same stored numbers; pixels we do not know are those GDAL has as no data (`noData`), or not finite. */
  async function expectSame(file: FileBytes, noData: number | null): Promise<void> {
    const source = await read(file);
    const { info, values } = await byGdal(file);
    const { width, height, transform } = source.raster ?? { width: 0, height: 0, transform: [] };
    expect([width, height]).toEqual([info.width, info.height]);
    const { 0: c, 1: a, 2: b, 3: f, 4: d, 5: e } = info.coordinateTransform;
    [a, b, c, d, e, f].forEach((own, k) => {
      expect(Math.abs(transform[k] - own)).toBeLessThanOrEqual(1e-12 * Math.abs(own));
    });
    expect(source.columns).toHaveLength(info.bandCount);
    source.columns.forEach((_, band) => {
      const ours = Float64Array.from(valuesOf(source, band));
      const theirs = values
        .subarray(band * width * height, (band + 1) * width * height)
        .map((value) => (value === noData || !Number.isFinite(value) ? NaN : value));
      expect(Buffer.compare(new Uint8Array(ours.buffer), new Uint8Array(theirs.slice().buffer))).toBe(0);
    });
  }

  const CORPUS: [string, number | null][] = [
    ['debian/L7_ETMs.tif', null],
    ['debian/elev.tif', -32768],
    ['debian/lc.tif', null],
    ['debian/meuse.tif', -32768],
    ['debian/na.tif', null],
    ['debian/olinda_dem_utm25s.tif', null],
    ['debian/spdata_elev.tif', null],
    ['debian/spdata_grain.tif', 255],
    ['rasterio/all-nodata.tif', 0],
    ['rasterio/byte.tif', null],
    ['rasterio/float.tif', null],
    ['rasterio/float32.tif', null],
    ['rasterio/float_nan.tif', null],
    ['rasterio/float_raster_with_extra_nodata.tif', Math.fround(-3.4e38)],
    ['rasterio/float_raster_with_nodata.tif', Math.fround(-3.4e38)],
    ['rasterio/rotated.tif', null],
    ['rasterio/test_esri_wkt.tif', null],
    ['rasterio/world.byte.tif', null],
  ];
  for (const [path, noData] of CORPUS) {
    const where = `tif_corpus/${path}`;
    describe.skipIf(missing(where))(`${where} of the open data`, () => {
      it('has the same numbers in the same place', () => expectSame(openData(where), noData));
    });
  }
  const PICTURES = ['cogeo', 'corrupt', 'goes', 'green', 'red', 'rgb-byte-tenth'].map(
    (n) => `tif_corpus/rasterio/${n}.tif`,
  );
  describe.skipIf(PICTURES.some(missing))('pictures of the open data', () => {
    it('are refused as pictures', async () => {
      for (const path of PICTURES) expect(await refusal(openData(path))).toBe('tif-picture');
    });
  });
  describe.skipIf(missing('tif_corpus/rasterio/RGBA.uint16.tif'))(
    'rasterio/RGBA.uint16.tif of the open data',
    () => {
      it('is not known where GDAL has no opacity, the same elsewhere', async () => {
        const file = openData('tif_corpus/rasterio/RGBA.uint16.tif');
        const source = await read(file);
        const { values } = await byGdal(file);
        const n = source.records;
        const opacity = values.subarray(3 * n);
        for (const band of [0, 1, 2]) {
          const theirs = values
            .subarray(band * n, (band + 1) * n)
            .map((value, i) => (opacity[i] === 0 ? NaN : value));
          expect(valuesOf(source, band)).toEqual([...theirs]);
        }
      });
    },
  );
  describe.skipIf(missing('golden/tif/area.tif'))('golden/tif of the open data', () => {
    it('lies in one place as area and as point, scaled by 0.1 and 5 (gdalinfo 3.6.2)', async () => {
      for (const name of ['area', 'point']) {
        const file = openData(`golden/tif/${name}.tif`);
        const source = await read(file);
        expect(source.raster?.transform).toEqual([10, 0, 458000, 0, -10, 4649030]);
        const { values } = await byGdal(file);
        expect(valuesOf(source)).toEqual(
          [...values].map((value) => (value === -9999 ? NaN : value * 0.1 + 5)),
        );
      }
    });
  });

  // T13: rasters that GDAL packs, in every way that is read, from one laid out by hand.
  const PACKED: string[][] = [
    ['COMPRESS=LZW'],
    ['COMPRESS=LZW', 'PREDICTOR=2'],
    ['COMPRESS=LZW', 'PREDICTOR=3'],
    ['COMPRESS=DEFLATE', 'PREDICTOR=3', 'TILED=YES', 'BLOCKXSIZE=64', 'BLOCKYSIZE=32'],
    ['COMPRESS=DEFLATE', 'PREDICTOR=2', 'ENDIANNESS=BIG'],
    ['COMPRESS=LZW', 'PREDICTOR=3', 'ENDIANNESS=BIG'],
    ['COMPRESS=PACKBITS', 'BIGTIFF=YES'],
    ['INTERLEAVE=BAND', 'COMPRESS=LZW', 'TILED=YES'],
    ['ENDIANNESS=BIG', 'BIGTIFF=YES'],
  ];
  const KINDS = ['Byte', 'UInt16', 'Int16', 'UInt32', 'Int32', 'Float32', 'Float64'];
  it.each(PACKED.map((options) => [options.join(' '), options] as const))(
    'T13: written with %s',
    async (_, options) => {
      const [width, height] = [150, 90];
      const numbers = Array.from(
        { length: 2 * width * height },
        (_, i) => Math.round(90 + 60 * Math.sin(i / 300)) + (i % 41),
      );
      const plain = tifFile(
        [{ entries: [...layout(width, height, 32, 3, 2), ...IN_UTM], blocks: [floats(numbers)] }],
        {
          name: 'plain.tif',
        },
      );
      const dataset = await open(plain);
      for (const kind of KINDS) {
        if (options.includes('PREDICTOR=3') && !kind.startsWith('Float')) continue;
        const packing = options.flatMap((own) => ['-co', own]);
        const bytes = await translated(dataset, '-of', 'GTiff', '-ot', kind, ...packing);
        const file = { name: `${kind}.tif`, bytes };
        await expectSame(file, null);
      }
    },
  );

  it('T13: LZW strips that fill the table of 4,096 codes', async () => {
    // Noise of 300 kB in one strip clears the table more than a hundred times.
    let state = 7;
    const noise = Array.from({ length: 75000 }, () => {
      state = (Math.imul(state, 1103515245) + 12345) >>> 0;
      return (state >>> 8) % 5000;
    });
    const plain = tifFile([{ entries: [...layout(300, 250, 32, 3), ...IN_UTM], blocks: [floats(noise)] }], {
      name: 'noise.tif',
    });
    const packing = ['-co', 'COMPRESS=LZW', '-co', 'BLOCKYSIZE=250'];
    const file = {
      name: 'noise-lzw.tif',
      bytes: await translated(await open(plain), '-of', 'GTiff', ...packing),
    };
    expect(file.bytes.length).toBeGreaterThan(100000);
    await expectSame(file, null);
  });

  it('T13: floating point planes in a file of high bytes first, by hand', async () => {
    // Adobe's note 3: high bytes first whatever the file's order, and then differences.
    const values = Array.from({ length: 8 }, (_, i) => 100 + i * 1.5);
    const high = floats(values, false);
    const planes = Uint8Array.from({ length: 32 }, (_, k) => high[4 * (k % 8) + Math.floor(k / 8)]);
    const stored = planes.map((byte, k) => (k === 0 ? byte : byte - planes[k - 1]));
    const entries = changed([...layout(8, 1, 32, 3), ...IN_UTM], [259, 'short', [8]], [317, 'short', [3]]);
    for (const little of [true, false]) {
      const file = tifFile([{ entries, blocks: [zlibSync(stored)] }], {
        little,
        name: `planes-${little}.tif`,
      });
      expect(valuesOf(await read(file))).toEqual(values);
      await expectSame(file, null);
    }
  });
});
