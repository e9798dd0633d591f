import { spawnSync } from 'node:child_process';
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { type Report, reportSchema } from '../../src/cli/report.ts';
import { buildCli, builtFile, eachacre, freshFolder } from './built.ts';
import { layFiles, PLAN, SQUARE } from './small-field.ts';

let cwd = '';
beforeAll(buildCli);
beforeEach(() => {
  cwd = freshFolder();
  layFiles(cwd);
  return () => rmSync(cwd, { recursive: true, force: true });
});

const { lon, lat, side_deg } = SQUARE;
const COS = Math.cos((lat * Math.PI) / 180);
/** Metres of one degree of latitude, nearly; only steps between records rest on it. */
const DEGREE_M = 111_100;

/** A record of an invented log: a place in metres from the south-west corner, and what a monitor writes. */
interface Row {
  readonly x: number;
  readonly y: number;
  readonly time: string;
  readonly swath: number | string;
  readonly speed: number | string;
  readonly yield: number | string;
  readonly lonLat?: string;
  readonly more?: string;
}

const clock = (second: number): string => {
  const day = 14 + Math.floor(second / 86_400);
  const [h, m, s] = [Math.floor((second % 86_400) / 3600), Math.floor((second % 3600) / 60), second % 60];
  return `2025-10-${day} ${[h, m, s].map((own) => String(own).padStart(2, '0')).join(':')}`;
};

/** Passes up and down, 9 m wide, a record a second at 2 m/s, begun at that second of the day. */
function log(begun = 40_000, length_m = 392): Row[] {
  const rows: Row[] = [];
  let second = begun;
  for (let pass = 0; pass < 43; pass++) {
    for (let k = 0; k * 2 < length_m; k++) {
      const y = pass % 2 === 0 ? 4 + 2 * k : 2 + length_m - 2 * k;
      const x = 5 + 9 * pass;
      const bushels = 150 + 0.15 * x + 8 * Math.sin(y / 40) + 5 * Math.sin(x / 31);
      rows.push({ x, y, time: clock(second++), swath: 9, speed: 2, yield: bushels.toFixed(2) });
    }
    second += 15;
  }
  return rows;
}

function text(rows: readonly Row[], unit = 'bu/ac', more = ''): string {
  const lines = rows.map((row) => {
    const place =
      row.lonLat ?? `${(lon + row.x / (DEGREE_M * COS)).toFixed(8)},${(lat + row.y / DEGREE_M).toFixed(8)}`;
    return [place, row.time, row.swath, row.speed, row.yield, ...(more ? [row.more ?? ''] : [])].join(',');
  });
  return [
    `lon,lat,Time,Swath (m),Speed (m/s),Yield${unit && ` (${unit})`}${more && `,${more}`}`,
    ...lines,
    '',
  ].join('\n');
}

const put = (rows: readonly Row[], unit?: string, more?: string) =>
  writeFileSync(join(cwd, 'yield-2025.csv'), text(rows, unit, more));
const changed = (rows: readonly Row[], at: (k: number) => boolean, change: (row: Row) => Partial<Row>) =>
  rows.map((row, k) => (at(k) ? { ...row, ...change(row) } : row));

type Issues = readonly { readonly code: string; readonly severity: string; readonly found: string }[];
const severe = (issues: Issues, severity: string) =>
  issues.filter((own) => own.severity === severity).map(({ code }) => code);

function planned(...more: string[]) {
  const answer = eachacre([...PLAN, ...more, '--force', '--json'], { cwd });
  expect(answer.err).not.toMatch(/^\s+at .*:\d+/m);
  const json = JSON.parse(answer.out);
  return { code: answer.code, issues: json.issues as Issues, map: json.plan?.evidence.yields[0] };
}

/** Plan and run; whatever comes of it, every account closes. */
function ran(...more: string[]): { code: number | null; report: Report; plan: ReturnType<typeof planned> } {
  const plan = planned(...more);
  expect([plan.code, severe(plan.issues, 'error')]).toEqual([0, []]);
  return { ...run(), plan };
}

function run(): { code: number | null; report: Report } {
  const answer = eachacre(['run', 'a.plan.json', '--out', 'out', '--json', '--force'], { cwd });
  expect(answer.err).not.toMatch(/^\s+at .*:\d+/m);
  const report = reportSchema.parse(JSON.parse(answer.out));
  expectClosed(report);
  expect(answer.code).toBe(severe(report.issues, 'error').length === 0 ? 0 : 1);
  return { code: answer.code, report };
}

function expectClosed(report: Report): void {
  for (const { id, read, used, repaired, setAside } of report.sources)
    expect([id, used + repaired + Object.values(setAside).reduce((sum, n) => sum + n, 0)]).toEqual([
      id,
      read,
    ]);
  const maps = report.evidence.yields;
  if (maps.length === 0) return;
  // The same of every map: each of its records is kept, or set aside by one rule.
  const aside = maps.flatMap(({ cleaning }) => cleaning).reduce((sum, rule) => sum + rule.setAside, 0);
  const kept = maps.reduce((sum, map) => sum + map.kept, 0);
  const { read, used, setAside } = account(report);
  expect([kept, kept + aside]).toEqual([used, read - (setAside['another-harvest'] ?? 0)]);
}
const account = ({ sources }: Report) => {
  const own = sources.find(({ role }) => role === 'yield');
  if (!own) throw new Error('no account of a yield map');
  return own;
};
const meanOf = ({ surfaces }: Report) => surfaces.find(({ kind }) => kind === 'yield')?.mean ?? NaN;

/** The log as it should be, for comparison. */
function sound(): Report {
  put(log());
  return ran().report;
}

describe('bad yield logs through the command line', () => {
  it('Y01 the same points twice over: one of each is set aside, and counted', () => {
    const rows = log();
    const twice = rows.flatMap((row, k) => (k % 4 === 0 ? [row, row] : [row]));
    const before = sound();
    put(twice);
    const { code, report } = ran();
    expect(code).toBe(0);
    const extra = twice.length - rows.length;
    expect(account(report).read).toBe(twice.length);
    // Some of the pairs had gone before, by the rules of passes.
    const others = account(before).read - account(before).used;
    expect(account(report).setAside['co-located']).toBeLessThanOrEqual(extra);
    expect(account(report).setAside['co-located']).toBeGreaterThanOrEqual(extra - others);
    expect(Math.abs(account(report).used - account(before).used)).toBeLessThan(0.01 * rows.length);
    expect(meanOf(report)).toBeCloseTo(meanOf(before), 0);
  });

  it('Y01 a whole file under two names is refused: one harvest would count as two', () => {
    put(log());
    writeFileSync(join(cwd, 'copy.csv'), readFileSync(join(cwd, 'yield-2025.csv')));
    const plan = eachacre([...PLAN, '--yield', 'yield-2025.csv', 'copy.csv', '--json'], { cwd });
    const run = plan.code === 0 ? eachacre(['run', 'a.plan.json', '--out', 'out', '--json'], { cwd }) : plan;
    expect(run.code).toBe(1);
    expect(severe(JSON.parse(run.out).issues, 'error')).toContain('yield-file-twice');
  });

  it('Y02 records out of order of time come to the same surface', () => {
    const before = sound();
    const rows = log();
    // By thousands from the end: as a file put together from several cards.
    const mixed = Array.from({ length: Math.ceil(rows.length / 1000) }, (_, k) =>
      rows.slice(1000 * k, 1000 * (k + 1)),
    )
      .reverse()
      .flat();
    put(mixed);
    const { code, report } = ran();
    expect(code).toBe(0);
    expect(account(report)).toMatchObject({ read: rows.length });
    expect(account(report).setAside).toEqual(account(before).setAside);
    expect(meanOf(report)).toBeCloseTo(meanOf(before), 9);
  });

  it('Y02 a harvest past midnight is one harvest, with a date or with a clock alone', () => {
    const before = sound();
    const night = log(82_000);
    put(night);
    const dated = ran().report;
    expect(account(dated).setAside).toEqual(account(before).setAside);
    expect(meanOf(dated)).toBeCloseTo(meanOf(before), 9);
    put(night.map((row) => ({ ...row, time: row.time.slice(11) })));
    const clocked = ran().report;
    expect(meanOf(clocked)).toBeCloseTo(meanOf(before), 1);
    expect(account(clocked).used).toBeGreaterThan(0.95 * account(before).used);
  });

  it('Y03 a unit nobody tells is asked, never guessed; said it is taken', () => {
    // No column names a unit, so no system of units speaks for one: some 145 is corn in bu/ac, and in q/ha.
    const less = log().map((row) => ({ ...row, yield: (0.8 * Number(row.yield)).toFixed(2) }));
    const plain = text(less, '').replace('Swath (m)', 'Swath').replace('Speed (m/s)', 'Speed');
    writeFileSync(join(cwd, 'yield-2025.csv'), plain);
    const asked = ran();
    expect(asked.plan.map.unit).toBe('unknown');
    expect(severe(asked.plan.issues, 'warning')).toContain('reading-open');
    const question = asked.report.evidence.yields[0].questions.find(({ about }) => about === 'yield unit');
    expect(question?.options.map(({ value }) => value).sort()).toEqual(['bu/ac', 'q/ha']);
    expect(asked.report.evidence.yields[0].unit).toBe('');
    const said = ran('--yield-unit', 'q/ha');
    expect(said.report.evidence.yields[0].unit).toBe('bu/ac');
    expect(said.report.evidence.yields[0].questions.map(({ about }) => about)).not.toContain('yield unit');
    // 1 q/ha of corn is 1.593 bu/ac (56 lb a bushel).
    expect(meanOf(said.report)).toBeCloseTo(meanOf(asked.report) * 1.5932, 0);
  });

  it('Y03 the unit of the swath, and the weight of a bushel, are taken as said', () => {
    const plain = text(log(), '').replace('Swath (m)', 'Swath').replace('Speed (m/s)', 'Speed');
    writeFileSync(join(cwd, 'yield-2025.csv'), plain);
    const asked = ran('--yield-unit', 'bu/ac');
    expect(asked.plan.map.open).toContain('swath unit');
    expect(asked.plan.map.bushel_lb).toBeNull();
    const words = ['--swath-unit', 'yield-2025.csv=m', '--bushel-weight', '27.2kg'];
    const said = ran('--yield-unit', 'bu/ac', ...words);
    expect(said.plan.map.columns.swath).toEqual({ column: 'Swath', unit: 'm' });
    expect(said.plan.map.open).not.toContain('swath unit');
    // 27.2 kg are 60 lb: bushels of that weight are 60/56 of those of corn.
    expect(said.plan.map.bushel_lb).toBe(60);
    expect(meanOf(said.report) / meanOf(asked.report)).toBeCloseTo(60 / 56, 2);
  });

  it('Y03 two columns of yield that differ are asked for before a plan is written', () => {
    const rows = log().map((row, k) => ({ ...row, more: (140 + (k % 37)).toFixed(1) }));
    put(rows, 'bu/ac', 'Yield 2 (bu/ac)');
    const open = planned();
    expect(open.code).toBe(1);
    expect(severe(open.issues, 'error')).toEqual(['reading-open']);
    const said = planned('--yield-column', 'Yield 2 (bu/ac)');
    expect([said.code, said.map.column]).toEqual([0, 'Yield 2 (bu/ac)']);
  });

  it('Y04 no width, no speed and yields below nothing are set aside by rule, each counted', () => {
    const rows = changed(
      changed(
        changed(
          log(),
          (k) => k % 100 === 50,
          () => ({ swath: 0 }),
        ),
        (k) => k % 100 === 20,
        () => ({ yield: -30 }),
      ),
      (k) => k % 100 === 70,
      () => ({ speed: 'NaN' }),
    );
    const before = sound();
    put(rows);
    const moved = ran();
    // Where the grain is moved back in time, one bad record is part of two; left where it is, each has its own reason.
    const path = join(cwd, 'a.plan.json');
    const plan = JSON.parse(readFileSync(path, 'utf8'));
    plan.evidence.yields[0].delay_s = 0;
    writeFileSync(path, JSON.stringify(plan));
    const still = run();
    const counts = (at: number) => rows.filter((_, k) => k % 100 === at).length;
    expect(account(still.report).setAside).toMatchObject({ 'header-up': counts(20) });
    const narrow = account(still.report).setAside['narrow-swath'] ?? 0;
    expect(narrow).toBeLessThanOrEqual(counts(50));
    // But for those at the ends of passes.
    expect(narrow).toBeGreaterThan(0.9 * counts(50));
    for (const { code, report } of [moved, still]) {
      expect(code).toBe(0);
      expect(account(report).read - account(report).used).toBeGreaterThan(counts(20) + 0.9 * counts(50));
      expect(report.surfaces.find(({ kind }) => kind === 'yield')?.min).toBeGreaterThan(100);
      expect(meanOf(report)).toBeCloseTo(meanOf(before), 0);
    }
  });

  it('Y04 a machine that stood still through the file is in doubt, and nothing divides by its speed', () => {
    put(log().map((row) => ({ ...row, speed: 0 })));
    const { code, report } = ran();
    expect(code).toBe(0);
    const rule = report.evidence.yields[0].cleaning.find(({ id }) => id === 'speed-range');
    expect(rule).toMatchObject({ tried: false, setAside: 0 });
    expect(rule?.untried).toContain('the log is in doubt');
  });

  it('Y05 all points outside the field are refused', () => {
    put(log().map((row) => ({ ...row, x: row.x + 900 })));
    const { code, report } = ran();
    expect(code).toBe(1);
    expect(severe(report.issues, 'error')).toEqual(['yield-no-points-inside']);
    expect(report.handOff).toBeNull();
    expect(report.zones).toEqual([]);
  });

  it('Y05 so are points of another county, with how far off they are', () => {
    put(log().map((row) => ({ ...row, x: row.x + 90_000 })));
    const { report } = ran();
    expect(severe(report.issues, 'error')).toEqual(['layers-apart']);
    expect(report.issues.find(({ code }) => code === 'layers-apart')?.found).toMatch(/\b(89|90|91)\b/);
  });

  it('Y06 three points are too few to speak for the field, and that is told', () => {
    put([log()[1000], log()[4000], log()[7000]]);
    const { code, report } = ran();
    expect(code).toBe(0);
    expect(account(report)).toMatchObject({ read: 3 });
    expect(severe(report.issues, 'warning')).toContain('yield-covers-little');
  });

  it('Y06 one point, and none', () => {
    put([log()[4000]]);
    const one = ran();
    expect(severe(one.report.issues, 'warning')).toContain('yield-covers-little');
    put([]);
    const none = planned();
    expect(none.code).toBe(1);
    expect(severe(none.issues, 'error').length).toBeGreaterThan(0);
  });

  it('Y07 two crops in one file: the planned one is taken, and both are told', () => {
    const rows = log().map((row) => ({
      ...row,
      more: row.x < 200 ? 'Corn' : 'Soybeans',
      yield: row.x < 200 ? row.yield : (Number(row.yield) * 0.3).toFixed(2),
    }));
    put(rows, 'bu/ac', 'Crop');
    const { code, report, plan } = ran();
    expect(code).toBe(0);
    expect(severe(plan.issues, 'warning')).toContain('yield-crops-several');
    expect(plan.map.where).toEqual({ column: 'Crop', equals: 'Corn' });
    expect(account(report).setAside['another-harvest']).toBe(
      rows.filter(({ more }) => more === 'Soybeans').length,
    );
    expect(meanOf(report)).toBeGreaterThan(140);
  });

  it('Y07 two years in one file are not one year', () => {
    const rows = log();
    const two = [
      ...rows.map((row) => ({ ...row, more: '2024' })),
      ...rows.map((row) => ({
        ...row,
        more: '2025',
        time: row.time.replace('2025', '2026'),
        yield: (Number(row.yield) * 0.5).toFixed(2),
      })),
    ];
    put(two, 'bu/ac', 'Year');
    const { code, plan, report } = ran();
    expect(code).toBe(0);
    expect(severe(plan.issues, 'warning')).toContain('yield-years-several');
    expect(report.evidence.yields.map(({ year }) => year)).toEqual([2024, 2025]);
    const means = report.surfaces.filter(({ kind }) => kind === 'yield').map(({ mean }) => mean ?? NaN);
    expect(means[1] / means[0]).toBeCloseTo(0.5, 2);
    expect(account(report)).toMatchObject({ read: two.length });
    expect(account(report).setAside['another-harvest']).toBeUndefined();
  });

  it('Y08 positions leapt to 0, 0 are set aside and told, and the rest stays', () => {
    const before = sound();
    put(
      changed(
        log(),
        (k) => k % 500 === 250,
        () => ({ lonLat: '0,0' }),
      ),
    );
    const { code, report } = ran();
    expect(code).toBe(0);
    const jumped = account(report).setAside;
    const lost =
      (jumped['position-jump'] ?? 0) + (jumped['outside-field'] ?? 0) + (jumped['no-position'] ?? 0);
    expect(lost).toBe(Math.floor(log().length / 500 + 0.5));
    expect(meanOf(report)).toBeCloseTo(meanOf(before), 0);
    const { out } = eachacre(['inspect', 'yield-2025.csv', '--json'], { cwd });
    expect(JSON.parse(out).issues.map((issue: { code: string }) => issue.code)).toContain('points-far-off');
  });

  it('Y09 a million and a half points end, and the account closes', { timeout: 240_000 }, () => {
    const rows: string[] = ['lon,lat,Time,Swath (m),Speed (m/s),Yield (bu/ac)'];
    // 1,000 passes of 1,500 records, 0.38 m apart: far denser than any machine writes.
    for (let pass = 0; pass < 1000; pass++) {
      const x = lon + ((pass + 0.5) / 1000) * (side_deg / COS);
      for (let k = 0; k < 1500; k++) {
        const v = (pass % 2 === 0 ? k + 0.5 : 1499.5 - k) / 1500;
        rows.push(
          `${x.toFixed(8)},${(lat + v * side_deg).toFixed(8)},${pass * 1600 + k},9,2,${(150 + pass / 25 + 9 * Math.sin(k / 80)).toFixed(1)}`,
        );
      }
    }
    writeFileSync(join(cwd, 'yield-2025.csv'), `${rows.join('\n')}\n`);
    const long = (args: readonly string[]) =>
      spawnSync(process.execPath, [builtFile(), ...args], {
        cwd,
        encoding: 'utf8',
        timeout: 110_000,
        maxBuffer: 2 ** 28,
      });
    const plan = long([...PLAN, '--json']);
    expect([plan.status, plan.signal]).toEqual([0, null]);
    const run = long(['run', 'a.plan.json', '--out', 'out', '--json']);
    expect([run.status, run.signal]).toEqual([0, null]);
    const report = reportSchema.parse(JSON.parse(run.stdout));
    expectClosed(report);
    expect(account(report).read).toBe(1_500_000);
    expect(report.proof?.ok).toBe(true);
  });

  it('Y10 all yields equal draw one zone, and say so', () => {
    put(log().map((row) => ({ ...row, yield: 180 })));
    const { code, report } = ran('--zones', '3');
    expect(code).toBe(0);
    expect(severe(report.issues, 'warning')).toContain('zones-fewer');
    expect(report.zones.filter(({ known }) => known)).toHaveLength(1);
    expect(meanOf(report)).toBeCloseTo(180, 9);
    expect(account(report).setAside['local-outlier'] ?? 0).toBe(0);
  });
});
