import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { createDesk } from '../../src/jobs/desk.ts';
import { type ReadCache, readInputs } from '../../src/jobs/read-inputs.ts';
import { sourceSha256 } from '../../src/jobs/source-sha256.ts';
import { geojson } from '../cli/small-field.ts';
import { gridFile, typeOneSeed } from '../formats/xml-seeds.ts';
import { plan } from '../plan/small-plan.ts';

const file = (name: string, text: string) => ({ name, bytes: new TextEncoder().encode(text) });
/** By OpenSSL, as node:crypto has it. */
const sha256 = (text: string) => createHash('sha256').update(text).digest('hex');

const members = [file('a.shp', 'shapes'), file('a.SHX', 'index'), file('a.dbf', 'table')];
const listed = `dbf ${sha256('table')}\nshp ${sha256('shapes')}\nshx ${sha256('index')}\n`;

describe('sourceSha256', () => {
  it('is that of a single file itself', async () => {
    expect(await sourceSha256([file('a.csv', 'x')])).toBe(sha256('x'));
  });
  it('is that of a list of members, whatever their order and case', async () => {
    expect(await sourceSha256(members)).toBe(sha256(listed));
    expect(await sourceSha256(members.toReversed())).toBe(sha256(listed));
  });
  it('changes with any member', async () => {
    for (const k of members.keys()) {
      const changed = members.map((member, i) => (i === k ? file(member.name, 'other') : member));
      expect(await sourceSha256(changed)).not.toBe(sha256(listed));
    }
    expect(await sourceSha256(members.slice(0, 2))).not.toBe(sha256(listed));
  });
});

describe('a loose task file with its grids', () => {
  const task = [file('t/TASKDATA.XML', 'task'), file('t/GRD00001.bin', 'one'), file('t/GRD00002.bin', 'two')];
  it('is known by the names and bytes of all, since several have one extension', async () => {
    const lines = `grd00001.bin ${sha256('one')}\ngrd00002.bin ${sha256('two')}\ntaskdata.xml ${sha256('task')}\n`;
    expect(await sourceSha256(task)).toBe(sha256(lines));
    // Grids that have changed places are another source.
    const [own, one, two] = task;
    const exchanged = [own, { ...one, bytes: two.bytes }, { ...two, bytes: one.bytes }];
    expect(await sourceSha256(exchanged)).not.toBe(sha256(lines));
  });

  it('keeps its grid from draft to run, and a changed grid is noticed', async () => {
    const square = geojson({
      type: 'Polygon',
      coordinates: [
        [
          [-93.5, 42],
          [-93.49, 42],
          [-93.49, 42.005],
          [-93.5, 42.005],
          [-93.5, 42],
        ],
      ],
    });
    const files = [file('field.geojson', square), ...typeOneSeed()];
    const desk = createDesk();
    const { plan: drafted } = await desk.call('draft', { files, name: 'a', season: 2027, crop: 'corn' });
    if (!drafted) throw new Error('no plan');
    expect(drafted.sources.map((source) => source.file)).toContain('TASKDATA.XML › grid TSK1');
    const errors = async (given: typeof files) => {
      await desk.call('open', { files: given });
      const { issues } = await desk.call('run', { plan: drafted });
      return issues.flatMap(({ code, where }) => (where.startsWith('TASKDATA') ? [code] : []));
    };
    const others = files.filter(({ name }) => !name.endsWith('.bin'));
    expect(await errors(files)).not.toContain('source-changed');
    expect((await errors(files)).filter((code) => /missing|layer-not|no-layer/.test(code))).toEqual([]);
    expect(await errors([...others, gridFile(Uint8Array.of(0, 1, 2, 2, 1, 1))])).toContain('source-changed');
    expect(await errors(others)).toContain('source-changed');
  });
});

describe('a plan that names a loose shapefile', () => {
  const own = plan({
    sources: [{ id: 'boundary', file: 'a.shp', sha256: sha256(listed) }],
    field: { boundary: 'boundary' },
    evidence: { soils: null, yields: [] },
    lineup: null,
  });
  it('tells when a sidecar is another than when the plan was made', async () => {
    const codes = async (files: typeof members) => {
      const desk = createDesk();
      await desk.call('open', { files });
      return (await desk.call('run', { plan: own })).issues.map(({ code }) => code);
    };
    expect(await codes(members)).not.toContain('source-changed');
    expect(await codes([...members.slice(0, 2), file('a.dbf', 'tabled')])).toContain('source-changed');
  });
});

it('reads bytes under another name again, so that issues name the file that is there', async () => {
  const cache: ReadCache = new Map();
  const named = async (name: string) => {
    const sources = [{ id: 'boundary', file: name, sha256: sha256('nothing') }];
    const own = plan({
      sources,
      field: { boundary: 'boundary' },
      evidence: { soils: null, yields: [] },
      lineup: null,
    });
    const { issues } = await readInputs(own, [file(name, 'nothing')], cache, {});
    return issues.map(({ where }) => where);
  };
  expect(await named('one.geojson')).toEqual(['one.geojson']);
  expect(await named('two.geojson')).toEqual(['two.geojson']);
});
