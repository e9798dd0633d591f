import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CLEANING_RULES } from '../../src/engine/harvest/clean-harvest.ts';
import { LOG_ROLES } from '../../src/engine/harvest/recognise/role.ts';
import { ROLE_UNITS } from '../../src/engine/harvest/recognise/role-units.ts';
import { YIELD_UNITS } from '../../src/engine/harvest/yield-unit.ts';
import type { Edited } from '../../src/plan/edits/edit.ts';
import {
  setDelay,
  setRuleUse,
  setSurface,
  setThreshold,
  setUnusual,
  setYearWeight,
  setYieldUse,
} from '../../src/plan/edits/set-evidence.ts';
import { settleReading } from '../../src/plan/edits/settle-reading.ts';
import type { Plan } from '../../src/plan/schema.ts';
import { readPlan } from '../../src/plan/validate.ts';
import { yieldId } from '../../src/plan/yield-id.ts';
import { plan } from './small-plan.ts';

const entry = (id: string) => ({ id, file: `${id}.csv`, sha256: '0'.repeat(64) });
/** Two harvests of one file, and one of another. */
const base = plan({
  sources: ['boundary', 'soils', 'yield', 'late', 'lineup'].map(entry),
  evidence: {
    yields: [
      {
        source: 'yield',
        column: 'Yld',
        unit: 'bu/ac',
        where: { column: 'Crop', equals: 'Corn' },
        columns: { swath: { column: 'Width', unit: 'unknown' } },
        open: [
          'swath unit',
          'crop',
          'moisture basis',
          'bushel weight',
          'yield column',
          'yield unit',
          'flow column',
        ],
      },
      { source: 'yield', column: 'Yld', where: { column: 'Crop', equals: 'Soybeans' } },
      { source: 'late', column: 'Yld', moisture: 'dry', bushel_lb: 56 },
    ],
  },
});
const before = structuredClone(base);
const CORN = 'yield · Corn';

/** The plan edited: still one that reads as it stands, the plan given untouched. */
function done(edited: Edited): Plan {
  if (!edited.plan) throw new Error(edited.refused);
  expect(base).toEqual(before);
  const { value, issues } = readPlan(structuredClone(edited.plan), 'edited');
  expect(issues).toEqual([]);
  expect(value).toEqual(edited.plan);
  return edited.plan;
}
/** The yield map as edited; nothing else of the plan is another. */
function mapOf(edited: Edited, id = CORN) {
  const after = done(edited);
  const own = after.evidence.yields.findIndex((map) => yieldId(map) === id);
  const yields = base.evidence.yields.map((map, k) => (k === own ? after.evidence.yields[k] : map));
  expect(after).toEqual({ ...base, evidence: { ...base.evidence, yields } });
  return after.evidence.yields[own];
}
const refusal = (edited: Edited) => {
  expect(edited.plan).toBeNull();
  expect(base).toEqual(before);
  return edited.refused;
};
const [corn, , late] = base.evidence.yields;

describe('an edit of a yield map', () => {
  it('changes what it says, of the one harvest it names', () => {
    expect(mapOf(setYieldUse(base, CORN, false))).toEqual({ ...corn, use: false });
    expect(mapOf(setYieldUse(base, 'late', false), 'late')).toEqual({ ...late, use: false });
    expect(mapOf(setYearWeight(base, CORN, 0.5))).toEqual({ ...corn, weight: 0.5 });
    expect(mapOf(setUnusual(base, CORN, true))).toEqual({ ...corn, unusual: true });
    expect(mapOf(setDelay(base, CORN, 12))).toEqual({ ...corn, delay_s: 12 });
    expect(mapOf(setDelay(base, CORN, 0))).toEqual({ ...corn, delay_s: 0 });
    expect(mapOf(setDelay(base, CORN, null))).toEqual(corn);
    expect(mapOf(setSurface(base, CORN, 'kriging'))).toEqual({ ...corn, surface: 'kriging' });
  });

  it.each<[string, () => Edited]>([
    ['use', () => setYieldUse(base, 'yield', true)],
    ['weight', () => setYearWeight(base, 'yield', 1)],
    ['unusual', () => setUnusual(base, 'Corn', true)],
    ['delay', () => setDelay(base, '', 3)],
    ['surface', () => setSurface(base, 'yield · corn', 'kriging')],
    ['reading', () => settleReading(base, 'soils', 'crop', 'corn')],
  ])('of %s is refused where there is no such map', (_, edit) => {
    expect(refusal(edit())).toBe('There is no such yield map.');
  });

  it.each([-0.1, 10.1, NaN, Infinity])('refuses a weight of %s', (weight) => {
    expect(refusal(setYearWeight(base, CORN, weight))).toBe('A year counts from 0 to 10 times.');
  });
  it.each([0, 10])('takes a weight of %s', (weight) => {
    expect(mapOf(setYearWeight(base, CORN, weight)).weight).toBe(weight);
  });

  it.each([-30.1, 60.1, NaN, Infinity])('refuses a delay of %s s', (delay_s) => {
    expect(refusal(setDelay(base, CORN, delay_s))).toContain('−30 and 60');
  });
  it.each([-30, 60])('takes a delay of %s s', (delay_s) => {
    expect(mapOf(setDelay(base, CORN, delay_s)).delay_s).toBe(delay_s);
  });

  it('never calls the last year that counts unusual, and takes it back at any time', () => {
    const two = done(setUnusual(done(setUnusual(base, CORN, true)), 'yield · Soybeans', true));
    expect(setUnusual(two, 'late', true).refused).toBe('The last year that counts cannot be called unusual.');
    expect(done(setUnusual(two, CORN, false)).evidence.yields[0].unusual).toBe(false);
    // One out of use does not count as left.
    const out = done(setYieldUse(done(setYieldUse(base, CORN, false)), 'yield · Soybeans', false));
    expect(setUnusual(out, 'late', true).refused).not.toBeNull();
  });
});

describe('an edit of cleaning', () => {
  const figures = CLEANING_RULES.flatMap(({ id, thresholds }) =>
    Object.entries(thresholds).map(([name, limits]) => ({ id, name, ...limits })),
  );

  it('uses a rule or leaves it', () => {
    const { cleaning } = base.evidence;
    for (const { id } of CLEANING_RULES) {
      const off = done(setRuleUse(base, id, false));
      expect(off).toEqual({
        ...base,
        evidence: { ...base.evidence, cleaning: { ...cleaning, [id]: { ...cleaning[id], use: false } } },
      });
      expect(done(setRuleUse(off, id, true))).toEqual(base);
    }
    expect(refusal(setRuleUse(base, 'by-eye', false))).toBe('There is no such rule.');
    expect(refusal(setRuleUse(base, 'constructor', false))).toBe('There is no such rule.');
  });

  it.each(figures)(
    'sets $id $name from $least to $most, and no further',
    ({ id, name, least, most, usual }) => {
      const { cleaning } = base.evidence;
      for (const value of [least, most, usual]) {
        const rule = { ...cleaning[id], thresholds: { ...cleaning[id].thresholds, [name]: value } };
        expect(done(setThreshold(base, id, name, value))).toEqual({
          ...base,
          evidence: { ...base.evidence, cleaning: { ...cleaning, [id]: rule } },
        });
      }
      const said = refusal(setThreshold(base, id, name, least - 1e-6));
      expect(said).toContain(`${least}`);
      expect(said).toContain(`${most}`);
      expect(refusal(setThreshold(base, id, name, most + 1e-6))).toBe(said);
      for (const value of [NaN, Infinity, -Infinity])
        expect(refusal(setThreshold(base, id, name, value))).toBe('A threshold is a number.');
    },
  );

  it('refuses a threshold there is not', () => {
    for (const [rule, name] of [
      ['by-eye', 'share'],
      ['narrow-swath', 'width'],
      ['header-up', 'share'],
      ['narrow-swath', 'toString'],
    ])
      expect(refusal(setThreshold(base, rule, name, 1))).toBe('There is no such threshold.');
  });
});

describe('the rules as the plan sets them', () => {
  const schema = JSON.parse(readFileSync(join(import.meta.dirname, '../../docs/plan.schema.json'), 'utf8'));
  const documented = schema.properties.evidence.properties.cleaning.properties;

  it('are all there, in use, each figure at its usual', () => {
    const usual = CLEANING_RULES.map(({ id, thresholds }) => [
      id,
      {
        use: true,
        thresholds: Object.fromEntries(Object.entries(thresholds).map(([name, own]) => [name, own.usual])),
      },
    ]);
    expect(base.evidence.cleaning).toEqual(Object.fromEntries(usual));
    expect(Object.keys(documented)).toEqual(CLEANING_RULES.map(({ id }) => id));
  });

  it.each(CLEANING_RULES.map((rule) => [rule.id, rule] as const))(
    '%s says where it comes from, and of every figure why; the documented plan says so too',
    (id, { title, source, thresholds }) => {
      expect(title).not.toBe('');
      expect(source).toMatch(/\d{4}|common practice|our own choice/i);
      expect(documented[id].description).toBe(`Set aside: ${title}. ${source}`);
      const own = documented[id].properties.thresholds.properties ?? {};
      expect(Object.keys(own)).toEqual(Object.keys(thresholds));
      for (const [name, { why, unit, least, most, usual }] of Object.entries(thresholds)) {
        expect(why.length).toBeGreaterThan(20);
        // With its source, or told to have none.
        expect(`${why} ${source}`).toMatch(/\b(19|20)\d\d\b|no source|our own choice/i);
        expect([least <= usual, usual <= most]).toEqual([true, true]);
        expect(own[name]).toMatchObject({ default: usual, minimum: least, maximum: most });
        expect(own[name].description).toBe(unit ? `${unit}. ${why}` : why);
      }
    },
  );

  it('take no figure beyond the limits of its rule, and no rule or figure there is not', () => {
    const read = (cleaning: object) =>
      readPlan({ ...structuredClone(base), evidence: { ...base.evidence, cleaning } }, 'plan').issues.length;
    expect(read({})).toBe(0);
    expect(read({ 'narrow-swath': { thresholds: { share: 1 } } })).toBe(0);
    expect(read({ 'narrow-swath': { thresholds: { share: 1.01 } } })).toBe(1);
    expect(read({ 'narrow-swath': { thresholds: { width: 1 } } })).toBe(1);
    expect(read({ 'by-eye': { use: true } })).toBe(1);
  });
});

describe('settling a reading', () => {
  const settle = (about: string, value: string, unit?: string) =>
    settleReading(base, CORN, about, value, unit);
  const without = (...about: string[]) => corn.open.filter((own) => !about.includes(own));

  it.each<[string, string, object]>([
    ['yield unit', 'kg/ha', { unit: 'kg/ha' }],
    ['yield unit', 'unknown', { unit: 'unknown' }],
    ['crop', 'corn', { crop: 'corn' }],
    ['crop', 'unknown', { crop: 'unknown', unit: 'unknown' }],
    ['moisture basis', 'dry', { moisture: 'dry' }],
    ['moisture basis', 'wet', { moisture: 'wet' }],
    ['bushel weight', '56', { bushel_lb: 56 }],
    ['yield column', 'Yld', { column: 'Yld' }],
    ['swath unit', 'ft', { columns: { ...corn.columns, swath: { column: 'Width', unit: 'ft' } } }],
  ])('%s as %s writes it down, and the question is gone', (about, value, change) => {
    expect(mapOf(settle(about, value))).toEqual({ ...corn, ...change, open: without(about) });
  });

  it.each(LOG_ROLES)('%s column takes the column with its unit', (role) => {
    const unit = ROLE_UNITS[role]?.[0].unit ?? '';
    expect(mapOf(settle(`${role} column`, 'Col 7', unit))).toEqual({
      ...corn,
      columns: { ...corn.columns, [role]: { column: 'Col 7', unit } },
      open: without(`${role} column`),
    });
  });

  it('a column whose unit nobody knows brings up the question of it', () => {
    expect(mapOf(settle('flow column', 'Flow'))).toEqual({
      ...corn,
      columns: { ...corn.columns, flow: { column: 'Flow', unit: 'unknown' } },
      open: [...without('flow column'), 'flow unit'],
    });
  });

  it('another crop asks anew for a unit that no name tells: other figures may be plausible', () => {
    const [own] = base.evidence.yields;
    const open = ['crop'];
    const settled = (map: object, crop = 'soybean') =>
      settleReading(
        { ...base, evidence: { ...base.evidence, yields: [{ ...own, open, ...map }] } },
        CORN,
        'crop',
        crop,
      ).plan?.evidence.yields[0];
    expect(settled({ unit: 'q/ha' })).toMatchObject({
      crop: 'soybean',
      unit: 'unknown',
      open: ['yield unit'],
    });
    expect(settled({ column: 'Yld (bu/ac)' })).toMatchObject({ crop: 'soybean', unit: 'bu/ac', open: [] });
    expect(settled({ unit: 'q/ha' }, 'corn')).toMatchObject({ crop: 'corn', unit: 'q/ha', open: [] });
    expect(settled({ unit: 'q/ha', take: 'flow' })).toMatchObject({ unit: 'q/ha', open: [] });
  });

  it('a crop of several takes its records, by a plain name; those of a map there is already it does not', () => {
    const [own, , other] = base.evidence.yields;
    const only = { ...base, evidence: { ...base.evidence, yields: [own, other] } };
    const settled = (id: string, column = 'Crop') =>
      settleReading(only, id, 'crop', 'Soybeans', undefined, column).plan?.evidence.yields.find(
        ({ crop }) => crop === 'soybean',
      );
    expect(settled(CORN)).toMatchObject({
      crop: 'soybean',
      where: { column: 'Crop', equals: 'Soybeans' },
      open: expect.not.arrayContaining(['crop']),
    });
    expect(settled('late')?.where).toEqual({ column: 'Crop', equals: 'Soybeans' });
    // The records of a year stay those of the year.
    expect(settled(CORN, 'Kind')?.where).toEqual({ column: 'Crop', equals: 'Corn' });
    expect(refusal(settleReading(base, CORN, 'crop', 'soybeans ', undefined, 'Crop'))).toBe(
      'There is a map of that harvest already.',
    );
  });

  it('a unit that is none of its role counts for none', () => {
    expect(mapOf(settle('flow column', 'Flow', 'furlong'))).toMatchObject({
      columns: { flow: { column: 'Flow', unit: 'unknown' } },
      open: [...without('flow column'), 'flow unit'],
    });
    // A header may be counted the other way round.
    expect(mapOf(settle('header column', 'Up', 'up is 1')).columns.header?.unit).toBe('up is 1');
    // A pass number has no unit to ask for.
    expect(mapOf(settle('pass column', 'Pass'))).toMatchObject({
      columns: { pass: { column: 'Pass', unit: '' } },
      open: without('pass column'),
    });
  });

  it('another yield column takes its own unit along: what was said of the first holds of it no more', () => {
    const asWet = done(settleReading(base, 'late', 'moisture basis', 'wet'));
    const own = (edited: Edited) => done(edited).evidence.yields[2];
    expect(own(settleReading(asWet, 'late', 'yield column', 'Mass', 'kg/ha'))).toMatchObject({
      column: 'Mass',
      unit: 'kg/ha',
      moisture: 'unknown',
      bushel_lb: null,
      open: ['moisture basis'],
    });
    expect(own(settleReading(asWet, 'late', 'yield column', 'Mass'))).toMatchObject({
      unit: 'unknown',
      open: ['moisture basis', 'yield unit'],
    });
    expect(own(settleReading(asWet, 'late', 'yield column', 'Mass', 'furlongs')).unit).toBe('unknown');
  });

  it.each([
    ['yield column', ''],
    ['yield column', '  '],
    ['yield unit', 'bushels'],
    ['yield unit', ''],
    ['crop', ''],
    ['moisture basis', 'unknown'],
    ['moisture basis', 'Dry'],
    ['bushel weight', '0'],
    ['bushel weight', '9.9'],
    ['bushel weight', '101'],
    ['bushel weight', 'Infinity'],
    ['bushel weight', 'heavy'],
    ['flow unit', 'lb/s'],
    ['swath unit', 'x'.repeat(21)],
    ['swath unit', 'furlong'],
    ['swath unit', 'kg/s'],
    ['swath unit', 'unknown '.repeat(2)],
    ['rate column', 'Rate'],
    ['colour', 'red'],
    ['', 'x'],
    ['__proto__ column', 'x'],
  ])('%s as "%s" is no answer', (about, value) => {
    expect(refusal(settle(about, value))).toBe('That is no answer to this question.');
  });

  it('takes every unit a yield may be in', () => {
    for (const unit of YIELD_UNITS) expect(mapOf(settle('yield unit', unit)).unit).toBe(unit);
  });
});

describe('two harvests of one file', () => {
  const maps = (...where: (string | null)[]) =>
    where.map((equals) => ({
      source: 'yield',
      column: 'Yld',
      where: equals === null ? null : { column: 'Crop', equals },
    }));
  const codes = (...where: (string | null)[]) =>
    readPlan({ ...structuredClone(base), evidence: { yields: maps(...where) } }, 'plan').issues.map(
      ({ code }) => code,
    );

  it('are two maps; one harvest twice is refused, whatever the case of its word', () => {
    expect(codes('Corn', 'Soybeans')).toEqual([]);
    expect(codes('Corn', 'Corn')).toEqual(['plan-yield-twice']);
    expect(codes('Corn', 'corn')).toEqual(['plan-yield-twice']);
    expect(codes('Corn', 'corn ')).toEqual(['plan-yield-twice']);
    expect(codes(null, null)).toEqual(['plan-yield-twice']);
  });
});
