import { describe, expect, it } from 'vitest';
import { portfolioSentences } from '../../src/run/portfolio-words.ts';
import type { Inputs } from '../../src/run/run.ts';
import { answerSentence } from '../../src/run/say.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, inputs, lineup } from './small-field.ts';
import { errors, walk } from './small-walk.ts';

const { rates } = answers;
const guard = { name: 'Seedling guard', pricePerUnit: 12, protectsAgainst: ['damping off'] };
const offered: Inputs = {
  ...inputs,
  lineup: {
    ...lineup,
    products: lineup.products.map((own) => (own.id === 'a' ? { ...own, treatments: [guard] } : own)),
  },
};

describe('seed as it is bought', () => {
  it('costs its treatment where the product is offered with it, told apart in the ledger', async () => {
    const results = await walk({ rates: { ...rates, treatments: ['Seedling guard'] } }, offered);
    const [b, a] = results.ledger!.byZone;
    expect([b.treatmentCost, a.treatmentCost]).toEqual([0, expect.closeTo(12 * a.units, 9)]);
    expect(a.seedCost).toBeCloseTo(252 * a.units, 6);
    expect(results.ledger!.total.treatmentCost).toBeCloseTo(a.treatmentCost, 9);
    expect((await walk({}, offered)).ledger!.total.treatmentCost).toBe(0);
  });

  it('is told of where no product is offered with it', async () => {
    const results = await walk({ rates: { ...rates, treatments: ['Moonshine'] } }, offered);
    expect(results.issues.find(({ code }) => code === 'treatment-not-offered')).toMatchObject({
      ...{ found: 'Moonshine', expected: 'one of Seedling guard' },
    });
  });

  it('is ordered with its spare, by the box where it comes so', async () => {
    const terms = { spare: 0.05, unitsPerBox: 4 };
    const results = await walk({ rates: { ...rates, ...terms } });
    expect(results.ledger!.order.every(({ units }) => units % 4 === 0)).toBe(true);
    expect(answerSentence(results, plan(answers))).toMatch(/ · 4 boxes to order for \$\d/);
  });
});

describe('the planter', () => {
  const planter = { row_in: 30, speed_mph: 10, mostSeedsPerSecond: 20 };

  it('holds rates to what its meter drops, and says what that costs', async () => {
    const results = await walk({ rates: { ...rates, planter } });
    const held = results.issues.filter(({ code }) => code === 'rate-at-limit');
    expect(held).toHaveLength(2);
    expect(held[0].effect).toMatch(/^The meter limit holds it, which costs \$\d+\.\d\d\/ac there$/);
    expect(held[0].remedy).toMatch(/^Drive slower/);
  });

  it('refuses a rate by hand over that', async () => {
    const byHand = [{ zone: 1, product: null, seedsPerAc: 30_000 }];
    const results = await walk({ rates: { ...rates, planter, byHand } });
    expect(errors(results)).toEqual(['by-hand-beyond-limit']);
    expect(results.issues.find(({ code }) => code === 'by-hand-beyond-limit')?.expected).toBe(
      'no more than 23,760, the most the meter drops at that speed',
    );
  });
});

describe('what the field hangs on', () => {
  it('is told by product, and by maturity where they differ', async () => {
    expect(portfolioSentences(await walk())).toEqual([
      'The field stands on 2 products: A on 50 %, B on 50 %.',
    ]);
    expect(portfolioSentences(await walk({ rates: { ...rates, hoppers: 1 } }))[0]).toMatch(
      /^All of the field is [AB]: whatever befalls that product befalls all of it\.$/,
    );
    const later = {
      ...lineup,
      products: lineup.products.map((own) => (own.id === 'b' ? { ...own, maturity: '113' } : own)),
    };
    expect(portfolioSentences(await walk({}, { ...inputs, lineup: later }))[1]).toBe(
      'Their maturities are 108, 113.',
    );
    expect(portfolioSentences(await walk({ money: {} }))).toEqual([]);
  });
});
