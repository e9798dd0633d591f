import { describe, expect, it } from 'vitest';
import type { Issue } from '../../src/engine/issue.ts';
import { pickRows, rowsWhere } from '../../src/engine/layers/pick-rows.ts';
import type { Source } from '../../src/engine/layers/source.ts';
import { draftYield } from '../../src/plan/draft-yield.ts';
import { settleReading } from '../../src/plan/edits/settle-reading.ts';
import type { Plan, PlanInput } from '../../src/plan/schema.ts';
import { yieldId } from '../../src/plan/yield-id.ts';
import { takeLog } from '../../src/run/stages/take-log.ts';
import { drive, type Header, pointFile } from '../engine/harvest/recognise/small-log.ts';
import { plan } from '../plan/small-plan.ts';

/** The plan a file makes, corn being planned. */
function drafted(source: Source): Plan {
  const entry = { id: 'y', file: source.file, sha256: '0'.repeat(64) };
  const words = { name: 'Small field', season: 2027, crop: 'corn', soilValue: null };
  const said = { yieldColumn: {}, yieldUnit: {}, yieldCrop: {} };
  const issues: Issue[] = [];
  const yields = draftYield({ entry, source }, { ...words, ...said }, issues);
  expect(issues.filter(({ severity }) => severity === 'error')).toEqual([]);
  const evidence: PlanInput['evidence'] = { yields };
  return plan({ sources: [...plan().sources, entry], evidence });
}

/** What a run takes of the first map of a plan. */
function taken(source: Source, { crop, evidence: { yields } }: Plan) {
  const [map] = yields;
  const own = map.where ? pickRows(source, rowsWhere(source, map.where) ?? new Uint32Array(0)) : source;
  const n = own.records;
  const place = { x_m: new Float64Array(n), y_m: new Float64Array(n), inside: new Uint8Array(n) };
  const { questions, unit, issues, log } = takeLog(own, map, crop, place, '', source);
  const effects = issues.filter(({ code }) => code === 'reading-open').map(({ effect }) => effect);
  return { map, questions, unit, effects, log };
}

/** The plan with an open reading settled by one of the options the run gives. */
function settled(source: Source, before: Plan, about: string, value: string): Plan {
  const { map, questions } = taken(source, before);
  const option = questions.find((own) => own.about === about)?.options.find((own) => own.value === value);
  if (!option) throw new Error(`${about} ${value} is not asked: ${JSON.stringify(questions)}`);
  const edited = settleReading(before, yieldId(map), about, value, option.unit, option.column);
  if (!edited.plan) throw new Error(edited.refused);
  return edited.plan;
}

const file = (yield_buPerAc: number, header: Header) =>
  pointFile(drive({ crop: 'corn', yield_buPerAc, moisture_pct: 15.5, swath_m: 9 }), header);

describe('a crop that is open', () => {
  it('of one crop out of a file of several can be settled: its records and a plain name are taken', () => {
    const source = file(190, {
      Crop: (r) => (r.time_s < 250 ? 'Soybeans' : 'Corn'),
      'Dry yield (bu/ac)': 'bu/ac dry',
    });
    const corn = drafted(source);
    const before = taken(source, corn);
    expect(before.map).toMatchObject({ crop: 'corn', where: { equals: 'Corn' }, open: ['crop'] });
    expect(before.questions.map(({ about, options }) => [about, options.map(({ value }) => value)])).toEqual([
      ['crop', ['Corn', 'Soybeans']],
    ]);
    expect(before.effects).toEqual([expect.stringMatching(/^It is taken as corn; until it is said, /)]);
    const after = taken(source, settled(source, corn, 'crop', 'Soybeans'));
    expect(after.map).toMatchObject({
      crop: 'soybean',
      where: { column: 'Crop', equals: 'Soybeans' },
      open: [],
    });
    expect([after.log.records, after.questions]).toEqual([250, []]);
    const kept = taken(source, settled(source, corn, 'crop', 'Corn'));
    expect(kept.map).toMatchObject({ crop: 'corn', where: { equals: 'Corn' }, unit: 'bu/ac', open: [] });
    expect(kept.log.records).toBe(350);
  });

  it('settled, asks anew for a unit that only the figures of the other crop told', () => {
    // A median of 30: as corn it can be q/ha alone; as soybeans bu/ac as well.
    const source = file(30, { Yield: 'bu/ac dry' });
    const first = drafted(source);
    expect(first.evidence.yields[0]).toMatchObject({ crop: 'corn', unit: 'q/ha', open: ['crop'] });
    const asked = settled(source, first, 'crop', 'soybean');
    expect(asked.evidence.yields[0]).toMatchObject({
      crop: 'soybean',
      unit: 'unknown',
      open: ['yield unit'],
    });
    const { questions, unit, effects } = taken(source, asked);
    expect(questions.map(({ about, options }) => [about, options.map(({ value }) => value)])).toEqual([
      ['yield unit', ['bu/ac', 'q/ha']],
    ]);
    expect(unit).toBe('');
    expect(effects).toEqual([expect.stringContaining('where the ground is better or worse')]);
    const after = taken(source, settled(source, asked, 'yield unit', 'bu/ac'));
    expect([after.map.unit, after.map.open, after.unit, after.questions]).toEqual(['bu/ac', [], 'bu/ac', []]);
  });

  it('settled, leaves a question to confirm though only one unit is plausible', () => {
    const source = file(190, { Yield: 'bu/ac dry' });
    const first = drafted(source);
    const [map] = first.evidence.yields;
    expect([map.unit, map.open]).toEqual(['bu/ac', []]);
    const yields = [{ ...map, unit: 'unknown' as const, open: ['yield unit'] }];
    const asked = { ...first, evidence: { ...first.evidence, yields } };
    expect(taken(source, asked).questions).toMatchObject([
      { about: 'yield unit', options: [{ value: 'bu/ac' }, { value: 'unknown' }] },
    ]);
    expect(taken(source, settled(source, asked, 'yield unit', 'bu/ac')).map).toEqual(map);
  });
});

describe('a moisture basis that is open', () => {
  it('takes nothing off, dry though the name may say, and the words say so', () => {
    const wet = drive({ crop: 'corn', yield_buPerAc: 190, moisture_pct: 22, swath_m: 9 });
    const source = pointFile(wet, {
      'Dry yield (bu/ac)': 'bu/ac wet',
      'Flow (lb/s)': 'lb/s',
      'Moisture (%)': '%',
      'Distance (ft)': 'ft dist',
      'Swath (ft)': 'ft swath',
    });
    const before = drafted(source);
    const { map, log, effects } = taken(source, before);
    expect([map.moisture, map.open]).toEqual(['unknown', ['moisture basis']]);
    expect(effects).toEqual([expect.stringContaining('as the file gives them')]);
    const [column] = source.columns;
    expect(column.kind === 'number' && Array.from(log.value)).toEqual(
      column.kind === 'number' && Array.from(column.values),
    );
    const dry = taken(source, settled(source, before, 'moisture basis', 'wet'));
    expect(dry.log.value[100]).toBeLessThan(log.value[100]);
  });
});
