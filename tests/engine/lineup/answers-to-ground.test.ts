import { describe, expect, it } from 'vitest';
import { answersToGround } from '../../../src/engine/lineup/answers-to-ground.ts';
import type { GroundAnswer } from '../../../src/engine/lineup/finlay-wilkinson.ts';
import { groundSentences } from '../../../src/engine/lineup/ground-answer-words.ts';
import type { TrialTable } from '../../../src/engine/lineup/trial-table.ts';
import { random } from '../../../src/engine/math/random.ts';
import { type Row, trials } from './small-trials.ts';

const GROUND = [150, 165, 175, 185, 195, 205, 215, 230];
/** Thousands; best at 32, 0.12 bu/ac lost per squared thousand away. */
const STANDS = [22, 27, 32, 37, 42];

/** Products that yield `merit` more than the ground, each 4 bu/ac off at a site, plots 5; `stands` by product and site. */
function standTrials(
  seed: number,
  merits: readonly number[],
  stands: (product: number, site: number) => readonly number[] = () => STANDS,
): Row[] {
  const { normal } = random(seed);
  return merits.flatMap((merit, k) =>
    GROUND.flatMap((e, site) => {
      const off = 4 * normal();
      return stands(k, site).map((p) => ({
        product: `P${k}`,
        site: `S${site}`,
        stand: 1000 * p,
        yield: e + merit + off - 0.12 * (p - 32) ** 2 + 5 * normal(),
      }));
    }),
  );
}

const sum = (answers: readonly GroundAnswer[], of: (answer: GroundAnswer) => number) =>
  answers.reduce((total, answer) => total + of(answer), 0);

describe('answersToGround', () => {
  it('has equal products lead by nothing over 300 trials of stands, and leads that add up to nothing', () => {
    const truth = { held: 0, of: 0, both: 0 };
    for (let seed = 1; seed <= 300; seed++) {
      const { products } = answersToGround(trials(standTrials(seed, [0, 0, 0, 0, 0, 0])), 'corn').answers;
      expect(Math.abs(sum(products, (own) => own.leadOnTough.value))).toBeLessThan(1e-9);
      expect(Math.abs(sum(products, (own) => own.leadOnGood.value))).toBeLessThan(1e-9);
      for (const { leadOnTough, leadOnGood } of products) {
        truth.of += 2;
        for (const lead of [leadOnTough, leadOnGood]) if (lead.low <= 0 && lead.high >= 0) truth.held++;
        if (leadOnTough.high < 0 && leadOnGood.high < 0) truth.both++;
      }
    }
    // Of 3,600 intervals, a third as many that are apart: two standard errors are 1.3 points, twice that.
    expect(Math.abs(truth.held / truth.of - 0.95)).toBeLessThan(0.026);
    expect(truth.both / (truth.of / 2)).toBeLessThan(0.025);
  });

  it('gives the lead of a better product where stands differ from site to site', () => {
    // The better product stood thin at half the sites and thick at the others, where each loses.
    const stands = (product: number, site: number) =>
      product === 0 ? (site % 2 === 0 ? [22, 27] : [37, 42]) : STANDS;
    const leads = Array.from({ length: 100 }, (_, seed) => {
      const [best] = answersToGround(trials(standTrials(seed, [8, 0, 0, 0, 0], stands)), 'corn').answers
        .products;
      return (best.leadOnTough.value + best.leadOnGood.value) / 2;
    });
    const mean = leads.reduce((total, lead) => total + lead, 0) / leads.length;
    // 8 less its share of the average. One trial: product by site 4 / √8 and plots 5 / √16, less the average and its lever on thirds; of a hundred 0.2.
    expect(Math.abs(mean - 8 * (1 - 1 / 5))).toBeLessThan(0.6);
  });

  const withTold = (table: TrialTable, told: (site: number) => number): TrialTable => ({
    ...table,
    sites: table.sites.map((site, k) => ({ ...site, environment_buPerAc: told(k) })),
  });
  const measuredBy = (table: TrialTable) =>
    groundSentences(
      answersToGround(table, 'corn').answers,
      table.products.map(({ name }) => name),
    ).at(-1);

  it('says by what ground is measured: environments told, told in part, or the yields', () => {
    const table = trials(standTrials(7, [3, 0, -3]));
    const byYields =
      'Ground is measured by the mean of all products at the site, the product itself among them: a slope of 1 is that of the average of these 3, and chance draws slopes a little towards it.';
    expect(measuredBy(table)).toBe(byYields);
    expect(measuredBy(withTold(table, (k) => GROUND[k]))).toBe(
      'Ground is measured by the environments told with the trials.',
    );
    expect(measuredBy(withTold(table, (k) => (k < 5 ? GROUND[k] : NaN)))).toBe(
      'Ground is measured by the environments told with the trials at 5 of 8 sites, and at the others by the yields there.',
    );
  });

  it('leaves products of one site out of the average a slope of 1 is of', () => {
    const once = { product: 'Once', site: 'S0', stand: 32_000, yield: 300 };
    expect(measuredBy(trials([...standTrials(7, [3, 0, -3]), once]))).toContain(
      'the average of the 3 that stood at two sites or more',
    );
  });
});
