import { describe, expect, it } from 'vitest';
import { type Issue, Refusal } from '../../src/engine/issue.ts';
import type { Raster, Source } from '../../src/engine/layers/source.ts';
import { sourceCrs } from '../../src/run/stages/place-source.ts';
import { table } from '../engine/layers/small-source.ts';

const rasterOf = (transform: Raster['transform']): Source => ({
  ...table({ band: [1, 2, 3, 4, 5, 6] }, 'ndvi.tif'),
  shape: 'raster',
  raster: { width: 3, height: 2, transform },
});

function crsOf(source: Source): { code: string; issues: string[] } {
  const issues: Issue[] = [];
  try {
    const { code } = sourceCrs(source, issues);
    return { code: code ?? '', issues: issues.map((issue) => issue.code) };
  } catch (thrown) {
    if (!(thrown instanceof Refusal)) throw thrown;
    return { code: thrown.issue.code, issues: [] };
  }
}

describe('a raster that does not say its coordinate system', () => {
  it('is taken for degrees, with a warning, where its four corners can be', () => {
    expect(crsOf(rasterOf([0.001, 0, -93.5, 0, -0.001, 42]))).toEqual({
      code: 'EPSG:4326',
      issues: ['crs-assumed'],
    });
  });

  it.each([
    ['in metres', [10, 0, 455_000, 0, -10, 4_650_000]],
    ['that leaves the globe by its far corner alone', [0.001, 0, -93.5, 0, -100, 42]],
    ['turned, with one corner out', [10, 60, 100, 0, -1, 42]],
    ['of pixels without a place', [Number.NaN, 0, 0, 0, -1, 0]],
  ] as const)('is refused %s', (_, transform) => {
    expect(crsOf(rasterOf(transform)).code).toBe('crs-missing');
  });

  it('has the one it says', () => {
    const crs = { code: 'EPSG:32615', name: 'UTM 15N', proj4: '+proj=utm +zone=15' };
    expect(crsOf({ ...rasterOf([10, 0, 455_000, 0, -10, 4_650_000]), crs }).code).toBe('EPSG:32615');
  });
});
