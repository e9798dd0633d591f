import { describe, expect, it } from 'vitest';
import { openOwnFiles } from '../../src/app/state/own-files.ts';
import { findFiles } from '../../src/jobs/find-files.ts';
import { plan } from '../plan/small-plan.ts';

/** What a plan needs of a chosen file: its way and its bytes. */
const chosen = (path: string, content = 'x') => ({
  path,
  file: new File([content], path.split('/').pop() ?? path),
});
const sources = (...files: string[]) =>
  files.map((file, k) => ({ id: k === 0 ? 'boundary' : `more-${k}`, file, sha256: '0'.repeat(64) }));
const own = (...files: string[]) =>
  JSON.stringify(
    plan({
      sources: sources(...files),
      field: { boundary: 'boundary' },
      evidence: { soils: null, yields: [] },
      lineup: null,
    }),
  );

describe('a plan opened with its files', () => {
  it('finds a layer of a file, and with a file what lies beside it, in whatever folder', async () => {
    const opened = await openOwnFiles([
      chosen('a.plan.json', own('data/field.shp', 'data/TASKDATA.XML › grid TSK1')),
      ...['field.shp', 'field.dbf', 'TASKDATA.XML', 'GRD00001.bin'].map((name) => chosen(`other/${name}`)),
    ]);
    expect(opened.issues).toEqual([]);
    const names = (file: string) => findFiles(opened.files, file).files.map(({ name }) => name);
    expect(names('data/field.shp')).toEqual(['other/field.shp', 'other/field.dbf']);
    expect(names('data/TASKDATA.XML')).toEqual(['other/TASKDATA.XML', 'other/GRD00001.bin']);
  });

  it('tells what is not there', async () => {
    const { issues } = await openOwnFiles([
      chosen('a.plan.json', own('field.geojson', 'soils.zip › soils.shp')),
      chosen('FIELD.geojson'),
    ]);
    expect(issues.map(({ found }) => found)).toEqual(['no soils.zip among the files chosen']);
  });
});
