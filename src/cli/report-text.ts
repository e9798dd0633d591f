import type { Ledger } from '../engine/prescription/ledger.ts';
import type { Proof } from '../jobs/prove.ts';
import type { Plan } from '../plan/schema.ts';
import { figure } from '../run/figures.ts';
import { portfolioSentences } from '../run/portfolio-words.ts';
import type { Results } from '../run/results.ts';
import { worthSentences } from '../run/worth-words.ts';
import type { Report } from './report.ts';
import { evidenceText } from './report-evidence.ts';
import { table } from './tell.ts';

/** The report as a person reads it: the answer, the ledger, what the plan is worth, the proof. */
export function reportText(report: Report, plan: Plan, results: Results): string {
  const parts = [`${plan.name} · ${plan.crop} ${plan.season}`, report.answer];
  if (report.field && report.field.changes.length > 0)
    parts.push(`Mended in the boundary: ${report.field.changes.join('; ')}.`);
  if (results.yields.length > 0) parts.push(evidenceText(results));
  if (results.ledger) parts.push(ledgerText(results));
  else if (results.zoning) parts.push(zonesText(report));
  if (results.ledger && isToBeSaid(results.ledger)) parts.push(orderText(results.ledger));
  const worth = worthSentences(results, plan);
  if (worth.length > 0) parts.push([...worth, ...portfolioSentences(results)].join('\n'));
  if (report.worth && report.worth.prices.length > 0) parts.push(pricesText(report.worth.prices));
  if (report.proof) parts.push(proofText(report.proof, false));
  if (report.handOff) parts.push(`Hand-off written: ${report.handOff}`);
  return parts.join('\n\n');
}

function ledgerText({ ledger, environment, zoning }: Results): string {
  if (!ledger) return '';
  const head = [
    'Zone',
    'Product',
    'Acres',
    'Ground bu/ac',
    'Stand/ac',
    'Seeds/ac',
    'Seeds',
    'Units',
    'Seed $',
    'Bu/ac',
    'Margin $/ac',
  ];
  const rows = ledger.byZone.map((row, k) => [
    row.name,
    row.productName,
    figure.acres(row.acres),
    environment && zoning ? figure.whole(zoning.zones[k].environment_buPerAc) : '',
    figure.whole(row.plantsPerAc),
    figure.whole(row.seedsPerAc),
    figure.whole(row.seeds),
    figure.tenth(row.units),
    figure.whole(row.seedCost),
    figure.whole(row.yield_buPerAc),
    figure.whole(row.marginPerAc),
  ]);
  const products = ledger.byProduct.map((row) => [
    '',
    row.productName,
    figure.acres(row.acres),
    '',
    '',
    '',
    figure.whole(row.seeds),
    figure.tenth(row.units),
    figure.whole(row.seedCost),
    '',
    '',
  ]);
  const { total } = ledger;
  const sum = [
    'Field',
    '',
    figure.acres(total.acres),
    '',
    '',
    figure.whole(total.seeds / total.acres),
    figure.whole(total.seeds),
    figure.tenth(total.units),
    figure.whole(total.seedCost),
    '',
    '',
  ];
  return table([head, ...rows, ...(products.length > 1 ? products : []), sum], 2);
}

/** Grain price across, seed price down, the worth in the cells. */
function pricesText(prices: NonNullable<Report['worth']>['prices']): string {
  const grain = [...new Set(prices.map(({ grainPrice_perBu }) => grainPrice_perBu))];
  const seed = [...new Set(prices.map(({ seedShare }) => seedShare))];
  const rows = seed.map((share, k) => [
    `seed at ${figure.whole(100 * share)} %`,
    ...prices
      .slice(k * grain.length, (k + 1) * grain.length)
      .map(({ perAc }) => (perAc === null ? '–' : figure.cents(perAc))),
  ]);
  return table([['Planned anew, $/ac', ...grain.map((price) => `${figure.cents(price)}/bu`)], ...rows], 1);
}

/** Units are in the account already; spare seed, boxes and treatments are not. */
function isToBeSaid({ order, total }: Ledger): boolean {
  return total.treatmentCost > 0 || order.some(({ spareSeeds, boxes }) => spareSeeds > 0 || boxes !== null);
}

function orderText({ order, total }: Ledger): string {
  const boxed = order.some(({ boxes }) => boxes !== null);
  const rows = order.map(({ productName, seeds, spareSeeds, boxes, units, cost }) => [
    productName,
    figure.whole(seeds),
    figure.whole(spareSeeds),
    ...(boxed ? [figure.whole(boxes ?? 0)] : []),
    figure.whole(units),
    figure.whole(cost),
  ]);
  const head = ['Order', 'Seeds', 'Spare', ...(boxed ? ['Boxes'] : []), 'Units', '$'];
  const treated = `Of the seed planted ${figure.dollars(total.treatmentCost)} is for treatments.`;
  return `${table([head, ...rows], 1)}${total.treatmentCost > 0 ? `\n${treated}` : ''}`;
}

function zonesText(report: Report): string {
  return table(
    [
      ['Zone', 'Acres', 'Ground bu/ac'],
      ...report.zones.map((zone) => [
        zone.name,
        figure.acres(zone.acres),
        figure.whole(zone.environment_buPerAc),
      ]),
    ],
    1,
  );
}

/** The proof: every check when asked for or failed, else one line. */
export function proofText(proof: Proof, whole: boolean): string {
  const failed = proof.checks.filter((check) => !check.ok);
  const head = proof.ok
    ? `Proof: holds, ${proof.checks.length} checks, ${proof.byOthers} of them by readers that are not ours.`
    : `Proof: FAILS in ${failed.length} of ${proof.checks.length} checks. The hand-off is not to be used.`;
  const shown =
    whole || !proof.ok
      ? proof.checks
      : proof.checks.filter((check) => ['area', 'seeds'].includes(check.what));
  const lines = shown.map(
    (check) =>
      `  ${check.ok ? 'holds' : 'FAILS'}  ${check.file}: ${check.what}: ${check.found}${check.ok && check.found === check.expected ? '' : ` (ledger ${check.expected})`}`,
  );
  return [head, ...lines].join('\n');
}
