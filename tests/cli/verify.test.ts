import {
  appendFileSync,
  cpSync,
  mkdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { buildCli, eachacre, freshFolder, tree } from './built.ts';
import { layFiles, PLAN } from './small-field.ts';

interface ProofAnswer {
  proof: { ok: boolean; checks: { file: string; what: string; ok: boolean }[] };
}

let home = '';
let folder = '';
beforeAll(async () => {
  await buildCli();
  home = freshFolder();
  layFiles(home);
  eachacre(PLAN, { cwd: home });
  expect(eachacre(['run', 'a.plan.json', '--out', 'good'], { cwd: home }).code).toBe(0);
  folder = join(home, 'hand-off');
});
afterAll(() => rmSync(home, { recursive: true, force: true }));
beforeEach(() => {
  rmSync(folder, { recursive: true, force: true });
  cpSync(join(home, 'good'), folder, { recursive: true });
});

/** `verify --json`: exit code and the files of the checks that failed. */
function failures(): { code: number | null; files: string[]; err: string } {
  const { code, out, err } = eachacre(['verify', folder, '--json']);
  const { proof } = JSON.parse(out) as ProofAnswer;
  expect(proof.ok).toBe(code === 0);
  return { code, files: proof.checks.filter((check) => !check.ok).map((check) => check.file), err };
}

const FILES = [
  ...['PRESC.geojson', 'READ-ME.txt', 'ledger.csv'],
  ...['cpg', 'dbf', 'prj', 'shp', 'shx'].map((ending) => `planter/PRESC.${ending}`),
];

describe('verify', () => {
  it('holds for what run wrote, in words and in JSON, and writes nothing', () => {
    const before = tree(home);
    const { code, out } = eachacre(['verify', folder]);
    expect(code).toBe(0);
    expect(out).toMatch(/^Proof: holds, \d+ checks/);
    expect(failures()).toMatchObject({ code: 0, files: [] });
    expect(tree(home)).toEqual(before);
  });

  describe.each(FILES)('names %s', (name) => {
    it.each([
      ['first', () => 0],
      ['middle', (size: number) => Math.floor(size / 2)],
      ['last', (size: number) => size - 1],
    ])('when its %s byte is another', (_, place) => {
      const bytes = readFileSync(join(folder, name));
      bytes[place(bytes.length)] ^= 1;
      writeFileSync(join(folder, name), bytes);
      expect(failures()).toMatchObject({ code: 1, files: [name] });
      const { code, out } = eachacre(['verify', folder]);
      expect(code).toBe(1);
      expect(out).toMatch(/^Proof: FAILS/);
      expect(out).toContain(`FAILS  ${name}: SHA-256`);
    });
    it('when it is cut short, longer, empty or gone', () => {
      const path = join(folder, name);
      const whole = readFileSync(path);
      for (const spoil of [
        () => truncateSync(path, whole.length - 1),
        () => appendFileSync(path, ' '),
        () => truncateSync(path, 0),
        () => rmSync(path),
      ]) {
        writeFileSync(path, whole);
        spoil();
        const { code, files } = failures();
        expect(code).toBe(1);
        expect(new Set(files)).toEqual(new Set([name]));
      }
    });
  });

  interface Manifest {
    version: number;
    features: number;
    field: { acres: number; area_m2: number; extent: { east: number }; cornerExtent: { east: number } };
    spots: { zone: number }[];
    files: { name: string; sha256: string }[];
    ledger: {
      total: { seeds: number; acres: number; units: number; seedCost: number };
      byZone: { seeds: number; seedsPerAc: number; product: string; acres: number; zone: number }[];
      byProduct: { seeds: number; product: string }[];
    };
  }
  const tamperings: [string, (manifest: Manifest) => void][] = [
    [
      'one seed more in the total',
      ({ ledger }) => {
        ledger.total.seeds++;
      },
    ],
    [
      'a thousandth of an acre more in the total',
      ({ ledger }) => {
        ledger.total.acres += 0.001;
      },
    ],
    [
      'a cent more of seed',
      ({ ledger }) => {
        ledger.total.seedCost += 0.01;
      },
    ],
    [
      'fewer units',
      ({ ledger }) => {
        ledger.total.units -= 0.01;
      },
    ],
    [
      'one seed more in a zone',
      ({ ledger }) => {
        ledger.byZone[0].seeds++;
      },
    ],
    [
      'one seed more all the way up',
      ({ ledger }) => {
        ledger.byZone[0].seeds++;
        ledger.byProduct[0].seeds++;
        ledger.total.seeds++;
      },
    ],
    [
      'another rate',
      ({ ledger }) => {
        ledger.byZone[0].seedsPerAc += 500;
      },
    ],
    [
      'another product',
      ({ ledger }) => {
        ledger.byZone[0].product = 'Another';
      },
    ],
    [
      'a zone moved',
      ({ ledger }) => {
        ledger.byZone[0].zone = 9;
      },
    ],
    [
      'a polygon less',
      (manifest) => {
        manifest.features--;
      },
    ],
    [
      'a larger field',
      ({ field }) => {
        field.acres *= 1.001;
      },
    ],
    [
      'more square metres',
      ({ field }) => {
        field.area_m2 += 1;
      },
    ],
    [
      'another version',
      (manifest) => {
        manifest.version = 2;
      },
    ],
    [
      'a field a metre further east',
      ({ field }) => {
        field.extent.east += 1.2e-5;
        field.cornerExtent.east += 1.2e-5;
      },
    ],
    [
      'a spot in another zone',
      ({ spots }) => {
        spots[0].zone = spots[0].zone === 1 ? 2 : 1;
      },
    ],
  ];
  it.each(tamperings)('fails a manifest that says %s', (_, tamper) => {
    const path = join(folder, 'handoff.json');
    const manifest: Manifest = JSON.parse(readFileSync(path, 'utf8'));
    tamper(manifest);
    writeFileSync(path, JSON.stringify(manifest, null, 2));
    const { code, files } = failures();
    expect(code).toBe(1);
    expect(files.length).toBeGreaterThan(0);
  });
  it('fails a manifest with the seeds total changed, by name', () => {
    const path = join(folder, 'handoff.json');
    const text = readFileSync(path, 'utf8');
    const { ledger }: Manifest = JSON.parse(text);
    writeFileSync(path, text.replaceAll(String(ledger.total.seeds), String(ledger.total.seeds + 1)));
    expect(failures()).toMatchObject({ code: 1 });
    expect(failures().files).toContain('handoff.json');
  });
  it.each([
    ['no JSON', 'handoff', /no JSON/],
    ['another document', '{}', /manifest/],
    ['an empty file', '', /no JSON/],
  ])('fails when the manifest is %s', (_, text, says) => {
    writeFileSync(join(folder, 'handoff.json'), text);
    const { code, out } = eachacre(['verify', folder]);
    expect(code).toBe(1);
    expect(out).toMatch(says);
    expect(out).toContain('handoff.json');
  });
  it('names a file beside those of the planter, and reads no other file', () => {
    mkdirSync(join(folder, 'planter/deep'));
    writeFileSync(join(folder, 'planter/deep/OLD.shp'), 'rest of another field');
    writeFileSync(join(folder, 'notes.zip'), 'mine');
    const { code, out } = eachacre(['verify', folder]);
    expect(code).toBe(1);
    expect(out).toContain('FAILS  planter/: files the manifest does not list: planter/deep/OLD.shp');
    expect(failures().files).toEqual(['planter/']);
  });
  it('reads nothing outside the folder, whatever the manifest lists', () => {
    const path = join(folder, 'handoff.json');
    const manifest: Manifest = JSON.parse(readFileSync(path, 'utf8'));
    manifest.files.push({ ...manifest.files[0], name: '../good/READ-ME.txt' });
    writeFileSync(path, JSON.stringify(manifest));
    expect(failures()).toMatchObject({ code: 1 });
    expect(failures().files).toContain('../good/READ-ME.txt');
  });
  it('fails when the manifest is gone', () => {
    rmSync(join(folder, 'handoff.json'));
    expect(failures()).toMatchObject({ code: 1, files: ['handoff.json'] });
  });
  it('fails when the manifest leaves a layer out', () => {
    const path = join(folder, 'handoff.json');
    const manifest: Manifest = JSON.parse(readFileSync(path, 'utf8'));
    for (const ending of ['.shp', '.geojson']) {
      const files = manifest.files.filter((file) => !file.name.endsWith(ending));
      writeFileSync(path, JSON.stringify({ ...manifest, files }));
      expect(failures().code).toBe(1);
    }
  });
  it.each([
    ['a folder that is not there', 'nowhere'],
    ['a file', 'a.plan.json'],
  ])('refuses %s', (_, name) => {
    const { code, err } = eachacre(['verify', join(home, name)]);
    expect(code).toBe(1);
    expect(err).toContain('[folder-missing]');
    expect(JSON.parse(eachacre(['verify', join(home, name), '--json']).out).issues[0].code).toBe(
      'folder-missing',
    );
  });
});
