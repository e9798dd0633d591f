import { describe, expect, it } from 'vitest';
import type { Results } from '../../src/run/results.ts';
import { box } from '../engine/grid/shapes.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, lineup, points, polygons, sources } from './small-field.ts';
import { errors, walk, withSource } from './small-walk.ts';

describe('a yield map of a part of the field', () => {
  // From 100 m east, so that gaps filled two cells beyond still lie on the good half.
  const east = (level: number) =>
    points(
      'yield.csv',
      [...Array(10)].flatMap((_, i) =>
        [...Array(60)].map((_, j): [number, number, number] => [105 + 10 * i, -147.5 + 5 * j, level * 200]),
      ),
    );
  const grounds = ({ zoning }: Results) => zoning?.zones.map((zone) => zone.environment_buPerAc) ?? [];

  it('tells the same ground as the soils it stands beside, and both are named', async () => {
    const results = await walk({}, withSource('yield', east(1)));
    // By its own mean it would make a field of 200, and its ground no better than the rest.
    expect(results.environment?.expected_buPerAc).toBeCloseTo(175, 9);
    expect(results.environment?.from).toBe('yield maps and soil ratings');
    expect(grounds(results)[0]).toBeCloseTo(150, 9);
    expect(grounds(results)[1]).toBeCloseTo(200, 9);
    expect(results.environment?.levels[0].level).toBeCloseTo(175, 9);
  });

  it('tells the same ground as a whole year, at the mean of both levels', async () => {
    const evidence = {
      soils: answers.evidence?.soils,
      yields: [
        ...(answers.evidence?.yields ?? []),
        { source: 'late', column: 'yield', unit: 'bu/ac' as const, year: 2025, crop: 'corn' },
      ],
    };
    const results = await walk(
      { sources: [...plan().sources, { id: 'late', file: 'late.csv', sha256: '1'.repeat(64) }], evidence },
      withSource('late', east(0.8)),
    );
    expect(results.environment?.expected_buPerAc).toBeCloseTo((175 + 140) / 2, 9);
    expect(results.environment?.from).toBe('yield maps');
    expect(grounds(results)[0]).toBeCloseTo(157.5 * (150 / 175), 9);
    expect(grounds(results)[1]).toBeCloseTo(157.5 * (200 / 175), 9);
  });

  it('never moves the mean of the environment off what is expected', async () => {
    const own = withSource('yield', east(1));
    // Soils that do not follow the yields: 100 and 300 where the field gives 150 and 200.
    const odd = polygons('soils.geojson', [box(-200, -150, 200, 300), box(0, -150, 150, 300)], {
      MUSYM: ['Hill', 'Bottom'],
      CORN_BU: [100, 300],
    });
    const results = await walk(
      { environment: { expected_buPerAc: 160 } },
      { lineup, sources: new Map([...own.sources, ['soils', odd]]) },
    );
    expect(results.environment?.summary.mean).toBeCloseTo(160, 9);
  });
});

describe('yield maps', () => {
  it('a yield map not in use that cannot be read is left out with a warning', async () => {
    const own = withSource('yield', points('yield.csv', [[5000, 0, 150]]));
    const evidence = (use: boolean) => ({
      soils: answers.evidence?.soils,
      yields: [{ source: 'yield', column: 'yield', use }],
    });
    const results = await walk({ evidence: evidence(false) }, own);
    const told = results.issues.find(({ code }) => code === 'yield-no-points-inside');
    expect(told).toMatchObject({ severity: 'warning' });
    expect(told?.effect).toContain('left out');
    expect(results.yields).toEqual([]);
    expect(results.sources.find(({ id }) => id === 'yield')?.role).toBe('not used');
    expect(results.prescription).not.toBeNull();
    const stopped = await walk({ evidence: evidence(true) }, own);
    const why = stopped.issues.find(({ code }) => code === 'yield-no-points-inside');
    expect(why?.effect).toContain('No zones are drawn');
    const absent = { lineup, sources: new Map([...sources].filter(([key]) => key !== 'yield')) };
    expect((await walk({ evidence: evidence(false) }, absent)).prescription).not.toBeNull();
  });

  it('one harvest twice, under two names, is refused; another column or one out of use is not', async () => {
    const again = (change: object) => {
      const map = { source: 'yield', column: 'yield' };
      return walk(
        {
          sources: [...plan().sources, { id: 'copy', file: 'copy.csv', sha256: '0'.repeat(64) }],
          evidence: { yields: [map, { ...map, source: 'copy', ...change }] },
        },
        withSource('copy', {
          ...points('copy.csv', [[0, 0, 150]]),
          columns: ['yield', 'other'].map((name) => ({ name, kind: 'number', values: Float64Array.of(150) })),
        }),
      );
    };
    const results = await again({});
    expect(errors(results)).toEqual(['yield-file-twice']);
    expect(results.zoning).toBeNull();
    expect(results.issues.find(({ code }) => code === 'yield-file-twice')?.found).toBe(
      'copy.csv, the same bytes as yield.geojson',
    );
    expect((await again({ use: false })).zoning).not.toBeNull();
    expect((await again({ column: 'other' })).zoning).not.toBeNull();
  });
});
