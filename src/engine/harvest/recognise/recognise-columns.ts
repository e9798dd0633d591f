import type { Column, Source, TextColumn } from '../../layers/source.ts';
import { median } from '../../math/median.ts';
import type { MoistureBasis } from '../moisture-basis.ts';
import { bushelOf } from '../yield-unit.ts';
import { askYield } from './ask-yield.ts';
import { checkYield, type YieldCheck } from './check-yield.ts';
import { byRole } from './choose-columns.ts';
import { systemOf } from './choose-unit.ts';
import { columnWords } from './column-words.ts';
import { type Look, type Meaning, POINTS, points } from './meaning.ts';
import { meaningOf, meaningsOf } from './meanings-of.ts';
import { movementOf } from './movement.ts';
import { type CropReading, recogniseCrop } from './recognise-crop.ts';
import {
  type Candidate,
  type ColumnQuestion,
  type ColumnReading,
  type RecognisedColumns,
  ROLES,
  type Role,
} from './role.ts';
import { type Sample, sampleOf } from './sample.ts';
import { stepsOf_s, stepsOfText_s, usualStep_s } from './score-time.ts';
import { rolesNamed } from './spellings.ts';
import { takeRole } from './take-role.ts';
import type { Told } from './told.ts';
import { unitsByCrop } from './units-by-crop.ts';

/** What a point file seems to hold. */
export interface Recognition {
  readonly columns: RecognisedColumns;
  /** By role, best first. */
  readonly candidates: Readonly<Record<Role, readonly Candidate[]>>;
  readonly crop: CropReading;
  /** What the yield column counts. */
  readonly basis: MoistureBasis;
  /** What flow, distance, swath and moisture say of the yield column; null where they cannot. */
  readonly check: YieldCheck | null;
  /** The likeliest yield column, taken or asked about; null where none can be yield. */
  readonly yieldReading: ColumnReading | null;
  /** The yield column in words: why it, why its unit. Empty where there is none. */
  readonly yieldBecause: string;
  readonly questions: readonly ColumnQuestion[];
}

/**
 * What the columns of a point file mean, by their names, their figures at about 2,000 rows and what one says of another. `planned` is the crop where
 * nothing else tells it. What is beyond doubt is in `columns`; where two readings are plausible there is a question instead, with a proposal.
 */
export function recogniseColumns(source: Source, planned: string, told: Told = {}): Recognition {
  const sample = sampleOf(source.records);
  const movement = movementOf(source, sample.rows);
  const crop = cropOf(source, planned, told);
  const look: Look = { sample, movement, crop: crop.crop ?? planned, step_s: NaN };
  const step_s = stepOf(source, look, told);
  const roles = byRole(source.columns.map((column) => meaningsWith(column, { ...look, step_s }, told)));
  const system = systemOf(ROLES.flatMap((role) => roles[role]));
  const { yields, check } = checkYields(roles, look.crop, sample, step_s);
  roles.yield = yields;

  const questions: ColumnQuestion[] = [];
  const columns = Object.fromEntries(ROLES.map((role) => [role, null])) as Record<Role, ColumnReading | null>;
  for (const role of ROLES) {
    if (role !== 'yield') columns[role] = takeRole(role, roles[role], { sample, system, check }, questions);
  }
  const settled =
    yields.length > 0 || crop.several
      ? null
      : unitsByCrop(roles, columns, questions, {
          sample,
          crop: look.crop,
          lbPerBu: bushelOf(look.crop),
          step_s,
        });
  for (const [role, unit] of settled ?? []) {
    const own = columns[role];
    if (own) columns[role] = { ...own, unit };
  }
  const open = questions.filter(({ about }) => !settled?.some(([role]) => about === `${role} unit`));
  const asked = askYield({
    yields,
    check,
    crop,
    planned,
    sample,
    system,
    told,
    lbPerBu: bushelOf(look.crop),
    moisture: medianMoisture(roles, columns, sample),
  });
  columns.yield = asked.reading;
  return {
    columns,
    candidates: Object.fromEntries(
      ROLES.map((role) => [role, roles[role].map(candidate)]),
    ) as unknown as Record<Role, Candidate[]>,
    crop,
    basis: asked.basis,
    check,
    yieldReading: asked.proposed,
    yieldBecause: asked.because,
    questions: [...asked.questions, ...open],
  };
}

function cropOf(source: Source, planned: string, told: Told): CropReading {
  const said = told.columns?.crop;
  const named = source.columns.find(
    (own): own is TextColumn =>
      own.kind === 'text' &&
      (said
        ? own.name === said.column
        : meaningsOf(own, BLANK_LOOK).some(
            (meaning) => meaning.role === 'crop' && points(meaning) >= POINTS.accept,
          )),
  );
  return recogniseCrop(source, named ?? null, planned, told.crop);
}

const BLANK_LOOK: Look = {
  sample: sampleOf(0),
  movement: { spacing_m: new Float64Array(0), bearing_deg: new Float64Array(0) },
  crop: '',
  step_s: NaN,
};

/** A column under what was said of it, else under all its name may mean; never as what another column was said to be. */
function meaningsWith(column: Column, look: Look, told: Told): Meaning[] {
  for (const role of ROLES) {
    const said = told.columns?.[role];
    if (said?.column !== column.name) continue;
    const [meaning] = meaningOf(role, column, look, 2 * POINTS.name);
    if (!meaning) return [];
    const units = meaning.units.filter(
      ({ unit }) => said.unit === undefined || unit === null || unit.unit === said.unit,
    );
    return [
      {
        ...meaning,
        told: meaning.told || said.unit !== undefined,
        units: units.length > 0 ? units : meaning.units,
      },
    ];
  }
  return meaningsOf(column, look).filter(({ role }) => told.columns?.[role] === undefined);
}

/** Seconds between records, by the column of time; NaN where there is none. */
function stepOf(source: Source, look: Look, told: Told): number {
  const times = source.columns
    .filter((column) =>
      rolesNamed(columnWords(column.name)).some((role) => role === 'time' || role === 'date'),
    )
    .flatMap((column) => meaningsWith(column, look, told).filter(({ role }) => role === 'time'));
  const [time] = byRole(times.map((own) => [own])).time;
  if (!time || points(time) < POINTS.accept) return NaN;
  const { column } = time;
  const unit = time.units[0].unit;
  if (column.kind === 'text') return usualStep_s(stepsOfText_s(column, look.sample.rows));
  const steps = unit && stepsOf_s(column, unit, look.sample);
  return steps ? usualStep_s(steps) : NaN;
}

/** The yield columns with what the physics says counted in, best first, and the check of the first. */
function checkYields(
  roles: Record<Role, Meaning[]>,
  crop: string,
  sample: Sample,
  step_s: number,
): { yields: Meaning[]; check: YieldCheck | null } {
  const judged = roles.yield.map((own) => {
    const check = checkYield(own, roles, crop, sample, step_s);
    const fits = check !== null && check.fits.length > 0;
    const units = fits
      ? own.units.map((one) => ({
          ...one,
          points: one.points + POINTS.ahead,
          because: [...one.because, 'agrees with flow and ground'],
        }))
      : own.units;
    return { own: { ...own, units }, check };
  });
  judged.sort((a, b) => points(b.own) - points(a.own));
  return { yields: judged.map(({ own }) => own), check: judged[0]?.check ?? null };
}

function medianMoisture(
  roles: Record<Role, readonly Meaning[]>,
  columns: Readonly<Record<Role, ColumnReading | null>>,
  sample: Sample,
): number {
  const [best] = roles.moisture;
  const unit = best?.units.find((own) => own.unit?.unit === columns.moisture?.unit)?.unit;
  if (best?.column.kind !== 'number' || !unit) return NaN;
  return median(
    sample
      .at(best.column)
      .map((own) => own * unit.scale)
      .filter((own) => own > 0),
  );
}

function candidate(meaning: Meaning): Candidate {
  const [best] = meaning.units;
  return {
    column: meaning.column.name,
    unit: best.unit?.unit ?? '',
    confidence: Math.max(0, Math.min(1, best.points / 100)),
    because: best.because.join(', '),
  };
}
