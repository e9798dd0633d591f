import { z } from 'zod';
import { CLEANING_RULES } from '../engine/harvest/clean-harvest.ts';
import { spreadOf } from '../engine/math/weighted.ts';
import { figure } from '../run/figures.ts';
import type { Results, YieldLayer } from '../run/results.ts';
import { table } from './tell.ts';

const number = z.number();
const variogram = z
  .object({
    lags: z.array(z.object({ distance_m: number, gamma: number, pairs: z.int() })),
    family: z.enum(['spherical', 'exponential']).nullable().describe('Null when none could be fitted.'),
    nugget: number.nullable(),
    psill: number.nullable(),
    range_m: number.nullable(),
    reason: z.string().nullable().describe('Why none could be fitted.'),
  })
  .nullable();

/** The part of a run's report that is about evidence: what was read as what, set aside why, moved how far, and how sure it is. */
export const evidenceSchema = z.object({
  yields: z.array(
    z.object({
      id: z.string(),
      label: z.string(),
      year: z.int().nullable(),
      crop: z.string().nullable(),
      unit: z.string(),
      use: z.boolean(),
      unusual: z.boolean(),
      weight: number,
      share: number
        .nullable()
        .describe('Share of the whole weight in the mean of years; null when not used.'),
      level: number.nullable().describe('What the year gave over the known ground, in its unit.'),
      agreement: number.nullable().describe('Correlation with the mean of the other years.'),
      readings: z.array(z.string()),
      questions: z.array(
        z.object({
          about: z.string(),
          options: z.array(
            z.object({
              value: z.string(),
              because: z.string(),
              unit: z.string().optional().describe('Of a column: the unit it is in.'),
            }),
          ),
          proposed: z.int(),
        }),
      ),
      kept: z.int(),
      cleaning: z.array(
        z.object({
          id: z.string(),
          title: z.string(),
          source: z.string(),
          tried: z.boolean(),
          untried: z.string().nullable(),
          setAside: z.int(),
          thresholds: z.record(z.string(), number),
        }),
      ),
      delay: z.object({
        delay_s: number,
        from: z.string(),
        confident: z.boolean().nullable(),
        because: z.string().nullable(),
        curve: z.array(z.object({ delay_s: number, criterion: number.nullable() })),
      }),
      method: z.string(),
      variogram,
      meanError: number.nullable().describe('Mean standard error of a cell; null where the method has none.'),
    }),
  ),
  layers: z.array(
    z.object({ id: z.string(), label: z.string(), unit: z.string(), method: z.string(), variogram }),
  ),
  environment: z
    .object({
      meanError_buPerAc: number.nullable(),
      errorFrom: z.string(),
      meanSpread: number.nullable().describe('Between years, of yield relative to the year.'),
    })
    .nullable(),
});

const known = (value: number): number | null => (Number.isFinite(value) ? value : null);

export function evidenceReport(results: Results): z.output<typeof evidenceSchema> {
  const { yields, layers, environment, field } = results;
  const area = field?.grid.area ?? new Float64Array(0);
  const mean = (surface: Float64Array | null) => (surface ? known(spreadOf(surface, area).mean) : null);
  return {
    yields: yields.map((layer) => {
      const year = environment?.levels.find(({ id }) => id === layer.id);
      const { delay } = layer;
      return {
        id: layer.id,
        label: layer.label,
        year: layer.year,
        crop: layer.crop,
        unit: layer.unit,
        use: layer.use,
        unusual: layer.unusual,
        weight: layer.weight,
        share: year ? year.share : null,
        level: year ? known(year.level) : null,
        agreement: year ? known(year.agreement) : null,
        readings: [...layer.readings],
        questions: layer.questions.map(({ about, options, proposed }) => ({
          about,
          options: options.map((option) => ({ ...option })),
          proposed,
        })),
        kept: keptOf(layer),
        cleaning: layer.cleaning.map((rule) => ({ ...rule, thresholds: { ...rule.thresholds } })),
        delay: {
          delay_s: delay.delay_s,
          from: delay.from,
          confident: delay.estimate?.confident ?? null,
          because: delay.estimate?.because ?? null,
          curve: (delay.estimate?.curve ?? []).map((point) => ({
            delay_s: point.delay_s,
            criterion: known(point.criterion),
          })),
        },
        method: layer.method,
        variogram: variogramReport(layer.variogram),
        meanError: mean(layer.error),
      };
    }),
    layers: layers.map(({ id, label, unit, method, variogram: fit }) => ({
      id,
      label,
      unit,
      method,
      variogram: variogramReport(fit),
    })),
    environment: environment && {
      meanError_buPerAc: mean(environment.error),
      errorFrom: environment.errorFrom,
      meanSpread: mean(environment.spread),
    },
  };
}

function variogramReport(fit: YieldLayer['variogram']): z.output<typeof variogram> {
  if (!fit) return null;
  const model = fit.best?.model ?? null;
  return {
    lags: fit.lags.map(({ distance_m, gamma, pairs }) => ({ distance_m, gamma, pairs })),
    family: model?.family ?? null,
    nugget: model?.nugget ?? null,
    psill: model?.psill ?? null,
    range_m: model?.range_m ?? null,
    reason: fit.reason,
  };
}

function keptOf({ points }: YieldLayer): number {
  return points.state.reduce((sum, state) => sum + (state === 0 ? 1 : 0), 0);
}

/** Yield maps in a table, then what was set aside of each and why, in another. */
export function evidenceText(results: Results): string {
  const { yields, environment } = results;
  if (yields.length === 0) return '';
  const head = [
    'Yield map',
    'Taken as',
    'Kept',
    'Set aside',
    'Moved back',
    'Counts',
    'Agrees',
    'Mean',
    'Spread',
  ];
  const rows = yields.map((layer) => {
    const year = environment?.levels.find(({ id }) => id === layer.id);
    const kept = keptOf(layer);
    return [
      layer.label,
      layer.unit || 'unit not known',
      figure.whole(kept),
      figure.whole(layer.points.state.length - kept),
      `${layer.delay.delay_s.toFixed(1)} s`,
      !layer.use ? 'not used' : layer.unusual ? 'unusual' : year ? `${figure.whole(100 * year.share)} %` : '',
      year && Number.isFinite(year.agreement) ? year.agreement.toFixed(2) : '',
      figure.tenth(layer.summary.mean),
      figure.tenth(layer.summary.sd),
    ];
  });
  return [table([head, ...rows], 2), reasonsText(yields)].filter(Boolean).join('\n\n');
}

/** Reasons by yield map, in the order they are tried; a rule that was not tried says so. */
function reasonsText(yields: readonly YieldLayer[]): string {
  const rows = CLEANING_RULES.flatMap(({ id, title }) => {
    const reports = yields.map(({ cleaning }) => cleaning.find((rule) => rule.id === id));
    if (!reports.some((report) => report && (report.setAside > 0 || !report.tried))) return [];
    const cells = reports.map((report) => (report?.tried ? figure.whole(report.setAside) : 'not tried'));
    return [[title, ...cells]];
  });
  if (rows.length === 0) return '';
  return table(
    [['Set aside, by the first reason that holds', ...yields.map(({ label }) => label)], ...rows],
    1,
  );
}
