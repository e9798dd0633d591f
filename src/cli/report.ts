import { z } from 'zod';
import type { Issue } from '../engine/issue.ts';
import { M2_PER_ACRE } from '../engine/math/units.ts';
import { ledgerDocument, ledgerSchema } from '../jobs/ledger-document.ts';
import type { Proof } from '../jobs/prove.ts';
import type { Plan } from '../plan/schema.ts';
import type { PriceGrid } from '../run/price-grid.ts';
import type { Results } from '../run/results.ts';
import { answerSentence } from '../run/say.ts';
import { evidenceReport, evidenceSchema } from './report-evidence.ts';
import { chancesSchema, worthReport, worthSchema } from './report-worth.ts';

const number = z.number();
const counts = z.record(z.string(), z.int().min(0));
const summary = z.object({
  cells: z.int(),
  share: number,
  mean: number.nullable(),
  sd: number.nullable(),
  min: number.nullable(),
  max: number.nullable(),
});

/** What `eachacre run --json` prints: one object, the same shape whether the run reached its end or not. */
export const reportSchema = z
  .object({
    report: z.literal('eachacre-run'),
    version: z.literal(1),
    plan: z
      .object({ name: z.string(), season: z.int(), crop: z.string() })
      .nullable()
      .describe('Null when the plan could not be read.'),
    answer: z.string().describe('The answer in one sentence.'),
    field: z
      .object({
        area_m2: number,
        acres: number,
        parts: z.int(),
        holes: z.int(),
        heading_deg: number,
        headingFrom: z.string(),
        cell_m: number,
        cells: z.int(),
        cellArea_m2: number,
        changes: z.array(z.string()),
      })
      .nullable(),
    sources: z.array(
      z.object({
        id: z.string(),
        file: z.string(),
        role: z.string(),
        format: z.string(),
        read: z.int(),
        used: z.int(),
        repaired: z.int(),
        setAside: counts,
      }),
    ),
    surfaces: z.array(
      z.object({
        id: z.string(),
        kind: z.enum(['soil', 'yield', 'other', 'environment']),
        label: z.string(),
        unit: z.string(),
        ...summary.shape,
      }),
    ),
    soils: z
      .object({
        covered_m2: number,
        coveredAcres: number,
        mapUnits: z.array(z.object({ name: z.string(), value: number.nullable(), acres: number })),
      })
      .nullable(),
    evidence: evidenceSchema,
    environment: z.object({ from: z.string(), expected_buPerAc: number }).nullable(),
    zones: z.array(
      z.object({
        id: z.int(),
        name: z.string(),
        acres: number,
        environment_buPerAc: number,
        known: z.boolean(),
        product: z.string().nullable(),
        plantsPerAc: number.nullable(),
        seedsPerAc: z.int().nullable(),
        economicOptimum_plantsPerAc: number.nullable().describe('Unrounded stand of highest margin.'),
        expectedYield_buPerAc: number.nullable(),
        seedCostPerAc: number.nullable(),
        marginPerAc: number.nullable(),
        limits: z.array(z.string()),
        runnerUp: z
          .object({
            product: z.string(),
            marginPerAc: number,
            lead: chancesSchema.nullable().describe('Of what the chosen product earns over it.'),
            best: number
              .nullable()
              .describe('Share of the worlds in which the chosen product earns most of all open there.'),
          })
          .nullable(),
      }),
    ),
    ledger: ledgerSchema.nullable(),
    worth: worthSchema.nullable(),
    proof: z
      .object({
        ok: z.boolean(),
        byOthers: z.int(),
        checks: z.array(
          z.object({
            file: z.string(),
            what: z.string(),
            expected: z.string(),
            found: z.string(),
            ok: z.boolean(),
          }),
        ),
      })
      .nullable(),
    handOff: z.string().nullable().describe('The folder written, null when nothing was.'),
    issues: z.array(
      z.object({
        code: z.string(),
        severity: z.enum(['error', 'warning', 'note']),
        where: z.string(),
        found: z.string(),
        expected: z.string(),
        effect: z.string(),
        remedy: z.string(),
      }),
    ),
  })
  .meta({ title: 'Report of eachacre run --json, version 1' });

export type Report = z.output<typeof reportSchema>;

const known = (value: number): number | null => (Number.isNaN(value) ? null : value);

/** The report of a run that was refused before it began. */
export function refusedReport(issue: Issue): Report {
  return {
    report: 'eachacre-run',
    version: 1,
    plan: null,
    answer: 'Nothing was run.',
    field: null,
    sources: [],
    surfaces: [],
    soils: null,
    evidence: { yields: [], layers: [], environment: null },
    environment: null,
    zones: [],
    ledger: null,
    worth: null,
    proof: null,
    handOff: null,
    issues: [issue],
  };
}

export function reportOf(
  plan: Plan,
  results: Results,
  proof: Proof | null,
  prices: PriceGrid | null,
  issues: readonly Issue[],
  handOff: string | null,
): Report {
  const { field, soils, zoning, choices, ledger, lineup } = results;
  const layers = [...(soils ? [soils] : []), ...results.yields, ...results.layers];
  const surface = (
    id: string,
    kind: 'soil' | 'yield' | 'other' | 'environment',
    label: string,
    unit: string,
    of: Results['yields'][number]['summary'],
  ) => ({
    id,
    kind,
    label,
    unit,
    cells: of.known,
    share: of.knownShare,
    mean: known(of.mean),
    sd: known(of.sd),
    min: known(of.min),
    max: known(of.max),
  });
  return {
    report: 'eachacre-run',
    version: 1,
    plan: { name: plan.name, season: plan.season, crop: plan.crop },
    answer: answerSentence(results, plan),
    field: field && {
      area_m2: field.area_m2,
      acres: field.acres,
      parts: field.region.length,
      holes: field.region.reduce((sum, polygon) => sum + polygon.holes.length, 0),
      heading_deg: field.grid.heading_deg,
      headingFrom: field.headingFrom,
      cell_m: field.grid.cell_m,
      cells: field.grid.area.length,
      cellArea_m2: field.grid.area.reduce((sum, area) => sum + area, 0),
      changes: [...field.changes],
    },
    sources: results.sources.map((source) => ({ ...source, setAside: { ...source.setAside } })),
    surfaces: [
      ...layers.map((layer) => surface(layer.id, layer.kind, layer.label, layer.unit, layer.summary)),
      ...(results.environment
        ? [surface('environment', 'environment', 'Yield environment', 'bu/ac', results.environment.summary)]
        : []),
    ],
    soils: soils && {
      covered_m2: soils.covered_m2,
      coveredAcres: soils.covered_m2 / M2_PER_ACRE,
      mapUnits: soils.mapUnits.map((unit) => ({
        name: unit.name,
        value: known(unit.value),
        acres: unit.area_m2 / M2_PER_ACRE,
      })),
    },
    evidence: evidenceReport(results),
    environment: results.environment && {
      from: results.environment.from,
      expected_buPerAc: results.environment.expected_buPerAc,
    },
    zones: (zoning?.zones ?? []).map((zone, k) => {
      const choice = choices?.[k] ?? null;
      const other = choice?.options.find((option) => option.product !== choice.chosen.product) ?? null;
      return {
        id: zone.id,
        name: zone.name,
        acres: zone.area_m2 / M2_PER_ACRE,
        environment_buPerAc: zone.environment_buPerAc,
        known: zone.known,
        product: choice && lineup[choice.chosen.product].name,
        plantsPerAc: choice?.chosen.plantsPerAc ?? null,
        seedsPerAc: choice?.chosen.seedsPerAc ?? null,
        economicOptimum_plantsPerAc: choice?.chosen.economicOptimum_plantsPerAc ?? null,
        expectedYield_buPerAc: choice?.chosen.yield_buPerAc ?? null,
        seedCostPerAc: choice?.chosen.seedCostPerAc ?? null,
        marginPerAc: choice?.chosen.marginPerAc ?? null,
        limits: choice ? [...choice.chosen.bound] : [],
        runnerUp: other && {
          product: lineup[other.product].name,
          marginPerAc: other.marginPerAc,
          lead: results.sure?.leads[k]?.chances ?? null,
          best: results.sure?.leads[k]?.best ?? null,
        },
      };
    }),
    ledger: ledger && ledgerDocument(ledger, lineup),
    worth: worthReport(results, plan, prices),
    proof: proof && {
      ok: proof.ok,
      byOthers: proof.byOthers,
      checks: proof.checks.map((check) => ({ ...check })),
    },
    handOff,
    issues: issues.map((issue) => ({ ...issue })),
  };
}
