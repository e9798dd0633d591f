import fc from 'fast-check';
import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { writeGeojson } from '../../src/formats/geojson/write.ts';
import { readFiles } from '../../src/formats/registry.ts';
import { writeShapefile } from '../../src/formats/shapefile/write.ts';
import { writeZip } from '../../src/formats/zip/write.ts';
import { dbfFile, NULL_CONTENT, pointContent, shpFile, smallLayer, textFile } from './small-files.ts';

const SHAPES = writeShapefile(smallLayer());
const POINTS = [
  shpFile(1, [pointContent(-93.5, 42), NULL_CONTENT, pointContent(-93.4, 42.1)]),
  dbfFile(
    [
      ['ID', 'N', 6],
      ['NAME', 'C', 6],
      ['DAY', 'D', 8],
    ],
    [1, 2, 3].map((i) => [`  ${i}.25`, 'abcdef', '20150812']),
  ),
];
const ROWS = Array.from({ length: 12 }, (_, i) => `-93.${i + 10},42.${i},"a ""${i}"", b",${i}.5`);
const SEEDS: Record<string, FileBytes[]> = {
  'a polygon shapefile': SHAPES,
  'a point shapefile': POINTS,
  GeoJSON: writeGeojson(smallLayer()),
  CSV: [textFile(`lon,lat,name,v\n${ROWS.join('\n')}\n`)],
  'a zip': [writeZip('h.zip', SHAPES)],
  'a zip of text': [{ name: 't.zip', bytes: zipSync({ 'a.csv': strToU8(ROWS.join('\n')) }) }],
};

/** One change to one file: a byte, a 32-bit word of an awkward value, a cut, a doubled stretch. */
const change = fc.record({
  file: fc.nat(4),
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  kind: fc.constantFrom('byte', 'word', 'wordBig', 'cut', 'repeat'),
  byte: fc.integer({ min: 0, max: 255 }),
  word: fc.constantFrom(0, 1, -1, 0x7fffffff, -0x80000000, 0xffff, 100, 2000, 1 << 24),
});

function applied(
  files: readonly FileBytes[],
  { file, at, kind, byte, word }: typeof change extends fc.Arbitrary<infer T> ? T : never,
) {
  const index = file % files.length;
  const bytes = files[index].bytes.slice();
  const place = Math.floor(at * bytes.length);
  const view = new DataView(bytes.buffer);
  let changed: Uint8Array = bytes;
  if (kind === 'byte') bytes[place] = byte;
  else if (kind === 'cut') changed = bytes.subarray(0, place);
  else if (kind === 'repeat')
    changed = Uint8Array.from([...bytes.subarray(0, place), ...bytes.subarray(place / 2)]);
  else if (place + 4 <= bytes.length) view.setInt32(place, word, kind === 'word');
  return files.map((original, i) => (i === index ? { ...original, bytes: changed } : original));
}

async function expectHonest(files: readonly FileBytes[]): Promise<void> {
  const started = performance.now();
  const { sources, issues } = await readFiles(files);
  expect(performance.now() - started).toBeLessThan(2000);
  expect(sources.length + issues.length).toBeGreaterThan(0);
  for (const { ledger, records, x, y, rings, shape, columns } of sources) {
    const aside = Object.values(ledger.setAside).reduce((sum, n) => sum + n, 0);
    expect(ledger.used + ledger.repaired + aside).toBe(ledger.read);
    for (const part of [ledger.used, ledger.repaired, ...Object.values(ledger.setAside)])
      expect(part).toBeGreaterThanOrEqual(0);
    expect(x.length).toBe(shape === 'points' ? records : 0);
    expect(y.length).toBe(x.length);
    expect(rings.length).toBe(shape === 'polygons' ? records : 0);
    for (const column of columns) {
      expect(column.kind === 'number' ? column.values.length : column.codes.length).toBe(records);
      if (column.kind === 'number') expect(column.values.includes(Number.POSITIVE_INFINITY)).toBe(false);
      else expect(column.codes.every((code) => code >= -1 && code < column.levels.length)).toBe(true);
    }
    for (const ring of rings.flatMap((r) => r ?? [])) expect(ring.every(Number.isFinite)).toBe(true);
  }
  for (const issue of issues) {
    for (const part of Object.values(issue)) expect(part).not.toBe('');
  }
}

describe.each(Object.entries(SEEDS))('%s, damaged', (_, seed) => {
  it('is read or refused, never thrown over, and its account closes (2,000 mutations)', async () => {
    await expectHonest(seed);
    await fc.assert(
      fc.asyncProperty(fc.array(change, { minLength: 1, maxLength: 3 }), async (changes) => {
        await expectHonest(changes.reduce((files, one) => applied(files, one), seed as readonly FileBytes[]));
      }),
      { seed: 20261124, numRuns: 2000 },
    );
    expect(Object.keys(Object.prototype)).toEqual([]);
  }, 60_000);

  it('is read or refused when cut at any byte', async () => {
    for (const [index, file] of seed.entries()) {
      for (let n = 0; n < file.bytes.length; n++) {
        await expectHonest(
          seed.map((other, i) => (i === index ? { ...file, bytes: file.bytes.subarray(0, n) } : other)),
        );
      }
    }
  }, 60_000);
});
