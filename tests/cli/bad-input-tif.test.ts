import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { zlibSync } from 'fflate';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { changed, floats, IN_UTM, layout, smallTif, tifFile } from '../formats/tif-seeds.ts';
import { buildCli, eachacre, freshFolder } from './built.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  return () => rmSync(cwd, { recursive: true, force: true });
});

function inspected(file: FileBytes) {
  writeFileSync(join(cwd, 'a.tif'), file.bytes);
  const answer = eachacre(['inspect', 'a.tif', '--json'], { cwd });
  expect(answer.err).not.toMatch(/^\s+at .*:\d+/m);
  const { layers, issues } = JSON.parse(answer.out);
  return { code: answer.code, layers, codes: issues.map(({ code }: { code: string }) => code) };
}

/** A file whose first directory names itself as the next. */
function looped(): FileBytes {
  const file = smallTif();
  const view = new DataView(file.bytes.buffer);
  const at = view.getUint32(4, true);
  view.setUint32(at + 2 + 12 * view.getUint16(at, true), at, true);
  return file;
}

const HUGE = [256, 257, 278].map((tag) => [tag, 'long', [100000]] as const);
const NOWHERE = [33550, 33922, 34735].map((tag) => [tag, null] as const);
const PICTURE = tifFile([
  {
    entries: changed([...layout(2, 2, 8, 1, 3), ...IN_UTM], [262, 'short', [2]]),
    blocks: [new Uint8Array(12)],
  },
]);
const DAMAGED = tifFile([
  {
    entries: changed([...layout(4, 3, 32, 3), ...IN_UTM], [259, 'short', [8]]),
    blocks: [zlibSync(floats([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12])).map((byte) => byte ^ 0x55)],
  },
]);
const BRITISH = [34735, 'short', [1, 1, 0, 2, 1024, 0, 1, 1, 3072, 0, 1, 27700]] as const;
const NAD27 = [34735, 'short', [1, 1, 0, 2, 1024, 0, 1, 1, 3072, 0, 1, 26711]] as const;

describe('inspect --json refuses', () => {
  it.each<[string, string, FileBytes]>([
    ['T01 a directory that leads back to itself', 'tif-ifd-loop', looped()],
    ['T02 100,000 by 100,000 pixels in 300 bytes', 'tif-too-large', smallTif(undefined, HUGE)],
    [
      'T03 a strip beyond the end',
      'tif-truncated',
      smallTif(undefined, [
        [273, 'long', [9000000]],
        [279, 'long', [48]],
      ]),
    ],
    ['T04 an unknown compression', 'tif-encoding', smallTif(undefined, [[259, 'short', [777]]])],
    ['T04 samples of 37 bits', 'tif-encoding', smallTif(undefined, [[258, 'short', [37]]])],
    ['T05 no place on the ground', 'tif-no-place', smallTif(undefined, NOWHERE)],
    ['T06 no size', 'tif-no-size', smallTif(undefined, [[256, 'long', [0]]])],
    ['T09 pixels without a size', 'tif-no-place', smallTif(undefined, [[33550, 'double', [0, 0, 0]]])],
    ['T10 a picture', 'tif-picture', PICTURE],
    ['T11 the datum of 1927', 'crs-nad27', smallTif(undefined, [NAD27])],
    ['T11 a system that is not known', 'crs-not-supported', smallTif(undefined, [BRITISH])],
    ['T12 a file cut short', 'tif-truncated', { name: 'a.tif', bytes: smallTif().bytes.subarray(0, 200) }],
    ['T12 a strip that cannot be unpacked', 'tif-damaged', DAMAGED],
  ])('%s', (_, code, file) => {
    const started = performance.now();
    const answer = inspected(file);
    expect(answer.code).toBe(1);
    expect(answer.codes).toContain(code);
    expect(performance.now() - started).toBeLessThan(5000);
  });
});

describe('inspect --json reads, and tells', () => {
  it('a raster as it is', () => {
    const { code, layers, codes } = inspected(smallTif());
    expect([code, codes]).toEqual([0, []]);
    expect(layers).toHaveLength(1);
    expect(layers[0]).toMatchObject({ format: 'geotiff', shape: 'raster', records: { read: 12, used: 12 } });
    expect(layers[0].columns).toEqual([
      expect.objectContaining({ name: 'band 1', known: 12, min: 1, mean: 6.5, max: 12 }),
    ]);
  });
  it.each<[string, string, FileBytes]>([
    ['T05 no coordinate system', 'crs-missing', smallTif(undefined, [[34735, null]])],
    [
      'T07 an undeclared number for no data',
      'tif-nodata-assumed',
      smallTif([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, -9999]),
    ],
    ['T09 rows from south to north', 'tif-south-up', smallTif(undefined, [[33550, 'double', [10, -10, 0]]])],
  ])('%s', (_, code, file) => {
    const answer = inspected(file);
    expect(answer.code).toBe(0);
    expect(answer.codes).toContain(code);
    expect(answer.layers).toHaveLength(1);
  });
});
