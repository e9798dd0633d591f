import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { reportSchema } from '../../src/cli/report.ts';
import { planSchema } from '../../src/plan/schema.ts';
import { buildCli, builtFile, eachacre, freshFolder, SAMPLES, tree } from './built.ts';
import { layFiles, PLAN } from './small-field.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  layFiles(cwd);
  return () => rmSync(cwd, { recursive: true, force: true });
});

const call = (...args: string[]) => eachacre(args, { cwd });
const planned = (...more: string[]) => call(...PLAN, ...more);

describe('exit codes', () => {
  it.each([
    ['no command', []],
    ['a command there is not', ['sow']],
    ['an option there is not', ['inspect', 'boundary.geojson', '--loud']],
    ['inspect without a file', ['inspect']],
    ['plan without a boundary', ['plan', '--out', 'a.plan.json']],
    ['plan without --out', ['plan', '--boundary', 'boundary.geojson']],
    ['run without --out', ['run', 'a.plan.json']],
    ['verify without a folder', ['verify']],
    ['a number that is none', [...PLAN, '--zones', 'three']],
    ['an empty number', [...PLAN, '--heading', '']],
    ['a method there is not', [...PLAN, '--method', 'by-eye']],
    ['a shape there is not', [...PLAN, '--shape', 'hexagons']],
    ['a coordinate system without a file', [...PLAN, '--crs', 'EPSG:32615']],
    ['a port there is not', ['serve', '--port', '99999']],
  ])('2 for %s, told on stderr, nothing on stdout, nothing written', (_, args) => {
    const before = tree(cwd);
    const { code, out, err } = call(...args);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toContain('Usage: eachacre');
    expect(tree(cwd)).toEqual(before);
  });
  it.each([
    ['--help', 'Usage: eachacre'],
    ['--version', '0.1.0'],
  ])('0 for %s', (flag, says) => {
    const { code, out } = call(flag);
    expect(code).toBe(0);
    expect(out).toContain(says);
  });
});

describe('inspect', () => {
  it('says what is in files', () => {
    const { code, out, err } = call('inspect', 'boundary.geojson', 'yield-2025.csv');
    expect(code).toBe(0);
    expect(err).toBe('');
    expect(out).toContain('boundary.geojson: 1 polygon (geojson)');
    expect(out).toContain('yield-2025.csv: 900 points (csv)');
    expect(out).toContain('yield: named yield bu/ac, 2025');
  });
  it('says the same in JSON', () => {
    const { code, out } = call('inspect', '--json', 'soils.geojson', 'yield-2025.csv');
    expect(code).toBe(0);
    const { layers, issues } = JSON.parse(out);
    expect(issues).toEqual([]);
    expect(
      layers.map((layer: { shape: string; records: { read: number } }) => [layer.shape, layer.records.read]),
    ).toEqual([
      ['polygons', 2],
      ['points', 900],
    ]);
    expect(layers[1].yield).toMatchObject({ column: 'yield bu/ac', unit: 'bu/ac', year: 2025 });
  });
  it('takes the whole of a loose shapefile when its .shp is named', () => {
    expect(planned().code).toBe(0);
    expect(call('run', 'a.plan.json', '--out', 'out').code).toBe(0);
    const { out } = call('inspect', '--json', 'out/planter/PRESC.shp');
    const { layers } = JSON.parse(out);
    expect(layers[0].columns.map((column: { name: string }) => column.name)).toContain('SEEDS_AC');
    expect(layers[0].crs.code).toBe('EPSG:4326');
  });
});

describe('plan', () => {
  it('writes a plan that is a plan, and tells what it guessed', () => {
    const { code, out, err } = planned();
    expect(code).toBe(0);
    expect(out).toContain('Plan written: a.plan.json');
    expect(err).toContain('[soil-value-guessed]');
    expect(err).toContain('[yield-column-guessed]');
    expect(planSchema.safeParse(JSON.parse(readFileSync(join(cwd, 'a.plan.json'), 'utf8'))).success).toBe(
      true,
    );
  });
  it('answers in JSON with the plan it wrote', () => {
    const { code, out } = planned('--json');
    expect(code).toBe(0);
    const answer = JSON.parse(out);
    expect(answer.written).toBe('a.plan.json');
    expect(answer.plan).toEqual(JSON.parse(readFileSync(join(cwd, 'a.plan.json'), 'utf8')));
  });
  it('writes what is said outright', () => {
    const said = [
      '--zones',
      '2',
      '--method',
      'fuzzy-c-means',
      '--heading',
      '90',
      '--cell',
      '20',
      '--shape',
      'zones',
    ];
    expect(planned(...said, '--emergence', '0.9', '--hoppers', '1', '--drying', '0.4').code).toBe(0);
    expect(JSON.parse(readFileSync(join(cwd, 'a.plan.json'), 'utf8'))).toMatchObject({
      season: 2027,
      field: { heading_deg: 90, cell_m: 20 },
      zones: { count: 2, method: 'fuzzy-c-means' },
      money: { grainPrice_perBu: 4.2, dryingHauling_perBu: 0.4 },
      rates: { emergence: 0.9, hoppers: 1 },
      handoff: { shape: 'zones' },
    });
  });
  it('does not replace a file unless told to', () => {
    writeFileSync(join(cwd, 'a.plan.json'), 'mine');
    const before = tree(cwd);
    const refused = planned();
    expect([refused.code, refused.out]).toEqual([1, '']);
    expect(refused.err).toContain('[file-exists]');
    expect(tree(cwd)).toEqual(before);
    expect(planned('--force').code).toBe(0);
    expect(readFileSync(join(cwd, 'a.plan.json'), 'utf8')).toContain('eachacre-plan');
  });
  it('never writes over a file the plan rests on, forced or not', () => {
    const before = tree(cwd);
    const { code, err } = planned('--out', 'soils.geojson', '--force');
    expect(code).toBe(1);
    expect(err).toContain('[plan-over-source]');
    expect(tree(cwd)).toEqual(before);
  });
  it('refuses a coordinate system for a file that was not given', () => {
    const { code, err } = planned('--crs', 'yeild-2025.csv=EPSG:32615');
    expect(code).toBe(1);
    expect(err).toContain('[crs-file-not-given]');
  });
});

describe('run', () => {
  const FILES = ['PRESC.geojson', 'READ-ME.txt', 'handoff.json', 'ledger.csv'].concat(
    ['cpg', 'dbf', 'prj', 'shp', 'shx'].map((ending) => `planter/PRESC.${ending}`),
  );
  beforeEach(() => {
    planned();
  });

  it('writes the hand-off, the answer on stdout and progress on stderr only', () => {
    const { code, out, err } = call('run', 'a.plan.json', '--out', 'out');
    expect(code).toBe(0);
    expect([...tree(join(cwd, 'out')).keys()]).toEqual(FILES);
    expect(out).toContain('Proof: holds');
    expect(out).toContain('Hand-off written: out');
    expect(out).not.toMatch(/^ *\d+ % {2}\S/m);
    expect(err).toMatch(/^ {2}0 % {2}Reading boundary.geojson$/m);
    expect(err).toMatch(/^100 % {2}Done$/m);
  });
  it('answers with one report in JSON, accounts closed', () => {
    const { code, out } = call('run', 'a.plan.json', '--out', 'out', '--json');
    expect(code).toBe(0);
    const report = reportSchema.parse(JSON.parse(out));
    expect(report.handOff).toBe('out');
    expect(report.proof?.ok).toBe(true);
    for (const source of report.sources) {
      const aside = Object.values(source.setAside).reduce((sum, n) => sum + n, 0);
      expect(source.used + source.repaired + aside).toBe(source.read);
    }
    expect(report.sources.map(({ role, read }) => [role, read])).toEqual([
      ['boundary', 1],
      ['soils', 2],
      ['yield', 900],
      ['lineup', 14],
    ]);
    expect(report.zones.reduce((sum, zone) => sum + zone.acres, 0)).toBeCloseTo(
      report.field?.acres ?? NaN,
      9,
    );
  });
  it('reports what it could work out when it hands nothing off', () => {
    writeFileSync(join(cwd, 'yield-2025.csv'), 'lon,lat,yield bu/ac\n0,0,1\n');
    const { code, out } = call('run', 'a.plan.json', '--out', 'out', '--json');
    expect(code).toBe(1);
    const report = reportSchema.parse(JSON.parse(out));
    expect(report.handOff).toBeNull();
    expect(report.ledger).toBeNull();
    expect(report.field?.acres).toBeGreaterThan(30);
    expect(report.issues.map(({ code: own }) => own)).toContain('source-changed');
  });
  it('draws zones and hands nothing off without a lineup, and says so', () => {
    const bare = PLAN.filter((_, k) => PLAN[k] !== '--lineup' && PLAN[k - 1] !== '--lineup');
    expect(call(...bare, '--force').code).toBe(0);
    const { code, out } = call('run', 'a.plan.json', '--out', 'out', '--json');
    const report = reportSchema.parse(JSON.parse(out));
    expect(code).toBe(0);
    expect(report.zones.length).toBe(3);
    expect(report.handOff).toBeNull();
    expect(report.issues.map(({ code: own }) => own)).toContain('lineup-missing');
    expect(tree(cwd).has('out/handoff.json')).toBe(false);
  });
  it('does not write into a folder that holds something, nor over a file', () => {
    call('run', 'a.plan.json', '--out', 'out');
    const before = tree(cwd);
    for (const [target, issue] of [
      ['out', 'folder-not-empty'],
      ['soils.geojson', 'folder-is-file'],
    ]) {
      const { code, err } = call('run', 'a.plan.json', '--out', target);
      expect(code).toBe(1);
      expect(err).toContain(`[${issue}]`);
      expect(tree(cwd)).toEqual(before);
    }
  });
  it('replaces with --force what the older hand-off listed and nothing else', () => {
    call('run', 'a.plan.json', '--out', 'out');
    writeFileSync(join(cwd, 'out/notes.txt'), 'mine');
    const plan = JSON.parse(readFileSync(join(cwd, 'a.plan.json'), 'utf8'));
    plan.handoff.name = 'AGAIN';
    writeFileSync(join(cwd, 'a.plan.json'), JSON.stringify(plan));
    expect(call('run', 'a.plan.json', '--out', 'out', '--force').code).toBe(0);
    expect([...tree(join(cwd, 'out')).keys()]).toEqual(
      [...FILES.map((name) => name.replace('PRESC', 'AGAIN')), 'notes.txt'].sort(),
    );
    expect(readFileSync(join(cwd, 'out/notes.txt'), 'utf8')).toBe('mine');
  });
  it('refuses before any work, even with --force, where the planter would read a file no hand-off listed', () => {
    call('run', 'a.plan.json', '--out', 'out');
    cpSync(join(cwd, 'out/planter/PRESC.shp'), join(cwd, 'out/planter/old/OTHER.shp'));
    const before = tree(cwd);
    const { code, err } = call('run', 'a.plan.json', '--out', 'out', '--force');
    expect(code).toBe(1);
    expect(err).toContain('planter/old/OTHER.shp');
    expect(err).toContain('[file-in-the-way]');
    expect(err).not.toContain('Reading');
    expect(tree(cwd)).toEqual(before);
  });
  it('does not replace a file no hand-off listed, even with --force', () => {
    call('run', 'a.plan.json', '--out', 'other');
    cpSync(join(cwd, 'other/ledger.csv'), join(cwd, 'out/ledger.csv'), { recursive: true });
    writeFileSync(join(cwd, 'out/ledger.csv'), 'my accounts');
    const before = tree(cwd);
    const { code, err } = call('run', 'a.plan.json', '--out', 'out', '--force');
    expect(code).toBe(1);
    expect(err).toContain('[file-in-the-way]');
    expect(tree(cwd)).toEqual(before);
  });
  it('removes nothing outside the folder, whatever an older manifest lists', () => {
    call('run', 'a.plan.json', '--out', 'out');
    const path = join(cwd, 'out/handoff.json');
    const manifest = JSON.parse(readFileSync(path, 'utf8'));
    manifest.files[0].name = '../soils.geojson';
    writeFileSync(path, JSON.stringify(manifest));
    const before = tree(cwd);
    const { code, err } = call('run', 'a.plan.json', '--out', 'out', '--force');
    expect(code).toBe(1);
    expect(err).toContain('[name-leads-out]');
    expect(tree(cwd)).toEqual(before);
  });
  it.each(['/dev/null/out', '/proc/out'])('says so when %s cannot be written', (place) => {
    const { code, err } = call('run', 'a.plan.json', '--out', place);
    expect(code).toBe(1);
    expect(err).toContain('[not-writable]');
    expect(err).not.toMatch(/^\s+at /m);
  });
});

describe('pipes', () => {
  const shell = (line: string) => spawnSync('bash', ['-c', line, builtFile()], { cwd, encoding: 'utf8' });
  it('may be closed by a reader that has read enough', () => {
    planned();
    // `true` reads nothing and is gone before the answer comes.
    const { stdout, stderr } = shell(
      `node "$0" run a.plan.json --out out --json | true; echo \${PIPESTATUS[0]}`,
    );
    expect(stdout).toBe('0\n');
    expect(stderr).not.toMatch(/^\s+at |Error/m);
    expect(tree(join(cwd, 'out')).size).toBe(9);
  });
  it.skipIf(!existsSync('/dev/full'))('that are full are told', () => {
    const { status, stderr } = shell('node "$0" inspect boundary.geojson > /dev/full');
    expect(status).toBe(1);
    expect(stderr).toMatch(/^error: the answer could not be written/);
    expect(stderr).not.toMatch(/^\s+at /m);
  });
});

describe('the same bytes every time', () => {
  const elsewhere = [
    { TZ: 'Pacific/Kiritimati' },
    { TZ: 'America/Los_Angeles', LANG: 'de_DE.UTF-8', LC_ALL: 'de_DE.UTF-8' },
    { LANG: 'tr_TR.UTF-8', LC_ALL: 'tr_TR.UTF-8' },
  ];
  let folder = '';
  beforeAll(() => {
    folder = freshFolder();
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('of a plan', () => {
    planned('--out', 'first.json', '--name', 'A field');
    const first = readFileSync(join(cwd, 'first.json'), 'utf8');
    for (const env of elsewhere) {
      eachacre([...PLAN, '--out', 'again.json', '--name', 'A field', '--force'], { cwd, env });
      expect(readFileSync(join(cwd, 'again.json'), 'utf8')).toBe(first);
    }
  });
  it.each(['heron-flat', 'marl-hollow'])('of the hand-off and report of %s', (name) => {
    const go = (out: string, env: Record<string, string>) =>
      eachacre(['run', join(SAMPLES, name, `${name}.plan.json`), '--out', 'out', '--json'], {
        cwd: freshIn(out),
        env,
      });
    const freshIn = (out: string) => {
      const inside = join(folder, name, out);
      cpSync(join(cwd, 'boundary.geojson'), join(inside, 'b'), { recursive: true });
      return inside;
    };
    const first = go('0', {});
    expect(first.code).toBe(0);
    const bytes = tree(join(folder, name, '0/out'));
    expect(bytes.size).toBe(9);
    for (const [k, env] of [{}, ...elsewhere].entries()) {
      const again = go(String(k + 1), env);
      expect(again.out).toBe(first.out);
      expect(tree(join(folder, name, `${k + 1}/out`))).toEqual(bytes);
    }
  });
});
