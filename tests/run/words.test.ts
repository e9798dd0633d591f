import { describe, expect, it } from 'vitest';
import type { PlanInput } from '../../src/plan/schema.ts';
import { run } from '../../src/run/run.ts';
import { answerSentence, missingForRates, stopIds, stopSentence } from '../../src/run/say.ts';
import { whyHere } from '../../src/run/why-here.ts';
import { box } from '../engine/grid/shapes.ts';
import { product } from '../engine/lineup/small-lineup.ts';
import { plan } from '../plan/small-plan.ts';
import { answers, inputs, lineup, points, polygons } from './small-field.ts';

async function walk(change: Partial<PlanInput> = {}, own = inputs) {
  const made = plan({ ...answers, ...change });
  return { made, results: await run(made, own) };
}

describe('the answer in one sentence', () => {
  it('holds the figures of the ledger', async () => {
    const { made, results } = await walk();
    const sentence = answerSentence(results, made);
    // 120,000 m² are 29.65 ac; at 26,250 seeds an acre 778,381 seeds, 9.73 units and $2,335.
    expect(sentence).toContain('29.7 ac');
    expect(sentence).toContain('778,38');
    // Ten whole units of $240.
    expect(sentence).toContain('10 units to order for $2,400');
    // Which of two products suits the poor half hangs on what the field yields as a whole, of which one year tells little.
    expect(sentence).toMatch(/ · flat is as good: \$8\.00\/ac over it, only \d\d % likely to pay$/);
  });

  it.each<[string, Partial<PlanInput>, RegExp]>([
    ['no price', { money: {} }, /No prices yet: worth unknown/],
    ['no lineup', { lineup: null }, /No lineup yet: worth unknown/],
    ['no lever: one zone', { zones: { count: 1 } }, /flat is as good/],
  ])('says so when there is %s', async (_, change, words) => {
    const { made, results } = await walk(change);
    expect(answerSentence(results, made)).toMatch(words);
  });

  it.each([
    [1, 'an estimated $1.00/ac over the best flat plan'],
    [0.99, 'flat is as good'],
    [0, 'flat is as good'],
    [-0.05, 'flat is as good'],
    [-0.06, 'an estimated $0.06/ac under the best flat plan'],
    [-12, 'an estimated $12.00/ac under the best flat plan'],
  ])('says of %s dollars an acre: %s', async (perAc, words) => {
    const { made, results } = await walk();
    if (!results.worth) throw new Error('no worth');
    const alone = { ...results, sure: null, worth: { ...results.worth, perAc } };
    expect(answerSentence(alone, made).split(' · ').at(-1)).toBe(words);
  });

  it.each([
    [8, 0.87, 'an estimated $8.00/ac over the best flat plan, 87 % likely to pay'],
    [8, 1, 'an estimated $8.00/ac over the best flat plan, over 99 % likely to pay'],
    [8, 0.6, 'flat is as good: $8.00/ac over it, only 60 % likely to pay'],
    [0.3, 0.99, 'flat is as good'],
    [0.01, 0.9, 'flat is as good'],
    [-3, 0.3, 'an estimated $3.00/ac under the best flat plan'],
  ])('says of %s dollars an acre that are ahead in a share of %s: %s', async (perAc, ahead, words) => {
    const { made, results } = await walk();
    if (!results.worth || !results.sure) throw new Error('no worth');
    const gain = { ...results.sure.gain, ahead };
    const own = { ...results, sure: { ...results.sure, gain }, worth: { ...results.worth, perAc } };
    expect(answerSentence(own, made).split(' · ').at(-1)).toBe(words);
  });

  it('counts one as one', async () => {
    const { made, results } = await walk({ zones: { count: 1 }, rates: { hoppers: 1 } });
    const { ledger } = results;
    if (!ledger) throw new Error('no ledger');
    const order = ledger.order.map((line) => ({ ...line, units: 1 }));
    expect(answerSentence({ ...results, ledger: { ...ledger, order } }, made)).toContain(
      ' · 1 unit to order for ',
    );
    expect(answerSentence({ ...results, ledger: null }, made)).toContain(' · 1 zone · ');
    expect(stopSentence('evidence', results, made).text).toBe('soils; 1 year, 1 used');
    expect(stopSentence('zones', results, made).text).toBe('1 zone by natural breaks');
    expect(stopSentence('rates', results, made).text).toBe('1 product in 1 hopper');
  });

  it('counts questions left for a person, of the maps in use and while the plan holds them open', async () => {
    const yields = [{ source: 'yield', column: 'yield', open: ['yield unit'] }];
    const { made, results } = await walk({ evidence: { ...answers.evidence, yields } });
    const question = { about: 'yield unit', options: [], proposed: 0 } as const;
    const asked = { ...results, yields: results.yields.map((map) => ({ ...map, questions: [question] })) };
    expect(stopSentence('evidence', asked, made)).toEqual({
      state: 'needs you',
      text: '1 question for you; soils; 1 year, 1 used',
    });
    const settled = plan({
      ...answers,
      evidence: { ...answers.evidence, yields: [{ ...yields[0], open: [] }] },
    });
    expect(stopSentence('evidence', asked, settled).state).toBe('settled');
    const idle = plan({
      ...answers,
      evidence: { ...answers.evidence, yields: [{ ...yields[0], use: false }] },
    });
    expect(stopSentence('evidence', asked, idle).state).toBe('settled');
  });

  it('tells a year called unusual, and other layers', async () => {
    const { made, results } = await walk();
    const odd = { ...results, yields: results.yields.map((map) => ({ ...map, unusual: true })) };
    expect(stopSentence('evidence', odd, made).text).toBe('soils; 1 year, 1 used, 1 called unusual');
  });

  it('says what keeps rates from being set', async () => {
    const bare = await walk({ lineup: null, money: {} });
    expect(missingForRates(bare.results, bare.made)).toEqual([
      'The plan has no lineup: the products on offer, with how they answer.',
      'There is no grain price.',
    ]);
    const whole = await walk();
    expect(missingForRates(whole.results, whole.made)).toEqual([]);
    const nowhere = await walk({}, { ...inputs, sources: new Map() });
    expect(missingForRates(nowhere.results, nowhere.made)[0]).toBe('There is no boundary that can be used.');
  });

  it('says what is missing when there is no boundary', async () => {
    const { made, results } = await walk({}, { ...inputs, sources: new Map() });
    expect(answerSentence(results, made)).toBe('No boundary that can be used yet.');
    for (const stop of stopIds) expect(stopSentence(stop, results, made).text).not.toBe('');
    expect(stopSentence('field', results, made).state).toBe('needs you');
    expect(stopSentence('zones', results, made).state).toBe('not begun');
  });
});

describe('why here', () => {
  it('leads from the soil and the yield to the rate, each sentence with its source', async () => {
    const { made, results } = await walk();
    const east = results.zoning?.label.indexOf(1) ?? -1;
    const why = whyHere(results, made, east);
    const text = why?.sentences.map((sentence) => sentence.text).join(' ') ?? '';
    expect(text).toContain("The soil here is rated 200.0 bu/ac; the field's mean is 175.0.");
    // 200 over a mean of 175.
    expect(text).toContain(
      'It yields 14 % over the field, give or take less than 1 as measured that year; over in 1 of 1 year.',
    );
    expect(text).toContain('It lies in Best ground, 200 ± 0 bu/ac ground.');
    expect(text).toContain('26,250 seeds an acre');
    for (const sentence of why?.sentences ?? []) expect(sentence.source).not.toBe('');
    // The field was laid about 90.5° W, 41.5° N.
    expect(why?.lon).toBeCloseTo(-90.5, 2);
    expect(why?.lat).toBeCloseTo(41.5, 2);
  });

  it('tells the error of the mean of years, years not counted, and years that near points speak for', async () => {
    const { made, results } = await walk();
    const east = results.zoning?.label.indexOf(1) ?? -1;
    const [one] = results.yields;
    const { environment } = results;
    if (!environment) throw new Error('no environment');
    const error = environment.error.map(() => 0.06 * environment.expected_buPerAc);
    const support = one.support.map(() => 0);
    const odd = { ...one, id: 'odd', label: 'Yield 2021', unusual: true };
    const told = (yields: typeof results.yields) =>
      whyHere(
        { ...results, yields, environment: { ...environment, error, errorFrom: 'spread between years' } },
        made,
        east,
      )?.sentences.map((sentence) => sentence.text);
    expect(told([one, odd])).toContain(
      'It yields 14 % over the field, give or take 6; over in 1 of 1 year. Yield 2021 is not counted.',
    );
    expect(told([{ ...one, support }])).toContain(
      `It yields 14 % over the field, give or take 6; over in 1 of 1 year. ${one.label} kept no point here; near ones speak for it.`,
    );
  });

  it('is nothing where the field is not', async () => {
    const { made, results } = await walk();
    for (const cell of [-1, 1e6, Number.NaN]) expect(whyHere(results, made, cell)).toBeNull();
  });

  /** The trail of the cell that holds a spot, metres of the field. */
  async function trail(change: Partial<PlanInput>, [x, y]: readonly [number, number], own = inputs) {
    const { made, results } = await walk(change, own);
    const grid = results.field?.grid;
    if (!grid) throw new Error('no field');
    const cell = grid.x.findIndex((mid, k) => Math.abs(mid - x) <= 10 && Math.abs(grid.y[k] - y) <= 10);
    const sentences = whyHere(results, made, cell)?.sentences ?? [];
    return { text: sentences.map((sentence) => sentence.text).join(' '), sentences, results };
  }
  const west = [-111, 11] as const;
  const east = [111, 11] as const;
  const rates = { emergence: 1, step_seedsPerAc: 250 };

  it('tells a rate set by hand, and what would have been best', async () => {
    const { text } = await trail({ rates: { ...rates, byHand: [{ zone: 2, seedsPerAc: 33_100 }] } }, east);
    expect(text).toContain('A leads B here by');
    expect(text).toMatch(
      /an acre at the rate you set, nine times in ten between −\$\d+\.\d\d and \$\d+\.\d\d; it is the best of all in \d+ of 100 drawn worlds\./,
    );
    // 30,000 less 3,750 for the price of seed.
    expect(text).toContain('Its best stand is 26,250 plants, which would be 26,250 seeds; you set 33,100.');
    expect(text).not.toContain('No limit binds');
  });

  it.each([
    ['highest_seedsPerAc', 24_000, "the plan's upper limit holds it at 24,000."],
    ['lowest_seedsPerAc', 29_000, "the plan's lower limit holds it at 29,000."],
  ])('tells a rate held by %s %s', async (limit, seeds, words) => {
    const { text } = await trail({ rates: { ...rates, [limit]: seeds } }, east);
    expect(text).toContain(`Its best stand is 26,250 plants, which would be 26,250 seeds; ${words}`);
  });

  it('tells a rate held by the stands tested', async () => {
    const products = lineup.products.map((own) => ({
      ...own,
      tested_plantsPerAc: { min: 20_000, max: 25_000 },
    }));
    const { text } = await trail({}, east, { ...inputs, lineup: { ...lineup, products } });
    expect(text).toContain('which would be 26,250 seeds; the tested limit holds it at 25,000.');
  });

  it('tells a rate at the better end of the stands tried, where there is no best stand', async () => {
    const lined = (bend: number) => ({
      ...lineup,
      products: [product({ response: { family: 'line', bend } })],
    });
    const free = await trail({ rates }, east, { ...inputs, lineup: lined(2) });
    expect(free.text).toContain(
      'Its trials show no best stand: of the rates open to it 40,000 seeds an acre earn most, at the tested limit.',
    );
    const falling = await trail({ rates }, east, { ...inputs, lineup: lined(-2) });
    expect(falling.text).toContain(
      'of the rates open to it 20,000 seeds an acre earn most, at the tested limit.',
    );
    const hand = { ...rates, byHand: [{ zone: 2, seedsPerAc: 30_000 }] };
    expect((await trail({ rates: hand }, east, { ...inputs, lineup: lined(2) })).text).toContain(
      'Its trials show no best stand; you set 30,000 seeds an acre.',
    );
  });

  it('tells a rate no stand of which pays', async () => {
    // $80 a thousand is 20 bushels; the first thousand bring six.
    const dear = { ...lineup, products: [product({ pricePerUnit: 6400 })] };
    expect((await trail({ rates }, east, { ...inputs, lineup: dear })).text).toContain(
      'By its curve planting nothing would earn more at these prices; of the rates open to it 20,000 seeds an acre earn most, at the tested limit.',
    );
    const hand = { ...rates, byHand: [{ zone: 2, seedsPerAc: 30_000 }] };
    expect((await trail({ rates: hand }, east, { ...inputs, lineup: dear })).text).toContain(
      'By its curve planting nothing would earn more at these prices; you set 30,000 seeds an acre.',
    );
  });

  it('tells a product set by hand', async () => {
    const { text } = await trail({ rates: { ...rates, byHand: [{ zone: 1, product: 'a' }] } }, west);
    expect(text).toContain('You set A in this zone.');
    expect(text).not.toContain('leads');
    // 28,000 on this ground, less 3,750 for the price of seed.
    expect(text).toContain('24,250 seeds an acre. No limit binds.');
  });

  it('tells why a product that earns more is not carried', async () => {
    // On the best ground A is four bushels ahead of B, at the same seed; over the field B earns more.
    const one = await trail({ rates: { ...rates, hoppers: 1 } }, east);
    expect(one.text).toContain(
      'A would earn $16.00 an acre more here, but 1 product is carried and the set chosen earns most over the field.',
    );
    const hand = { ...rates, hoppers: 1, byHand: [{ zone: 1, product: 'b' }] };
    expect((await trail({ rates: hand }, east)).text).toContain('but B, set by hand, fills the one hopper.');
    // Three levels of ground, C by hand on the middle one: the other hopper holds B for the poorest, not A for the best.
    const levels = patch(-200).map(([x, y]): [number, number, number] => [
      x,
      y,
      x < -60 ? 150 : x < 60 ? 180 : 200,
    ]);
    const c = { ...lineup.products[1], id: 'c', name: 'C', pricePerUnit: 700 };
    const three = {
      lineup: { ...lineup, products: [...lineup.products, c] },
      sources: new Map([...inputs.sources, ['yield', points('y.csv', levels)]]),
    };
    const two = { ...rates, hoppers: 2, byHand: [{ zone: 2, product: 'c' }] };
    const zones = { count: 3, smooth_m: 0 };
    expect((await trail({ zones, rates: two }, east, three)).text).toMatch(
      /A would earn \$\S+ an acre more here, but 2 products are carried, C by hand, and with it the set chosen earns most over the field\./,
    );
    const full = {
      ...two,
      byHand: [
        { zone: 1, product: 'b' },
        { zone: 2, product: 'c' },
      ],
    };
    expect((await trail({ zones, rates: full }, east, three)).text).toContain(
      'but B and C, set by hand, fill the 2 hoppers.',
    );
  });

  it('tells yield maps out of use from ground not measured', async () => {
    const soils = answers.evidence?.soils;
    const idle = { soils, yields: [{ source: 'yield', column: 'yield', use: false }] };
    const out = await trail({ evidence: idle }, east);
    expect(out.text).toContain('No yield map is in use.');
    expect(out.text).not.toContain('measured');
    expect(out.sentences.find(({ text }) => text.startsWith('It lies in'))?.source).toBe(
      'zones, soil ratings',
    );
    const spot = { ...inputs, sources: new Map([...inputs.sources, ['yield', points('y.csv', patch(100))]]) };
    const far = await trail({}, west, spot);
    expect(far.text).toContain('No yield was measured here.');
    expect(far.sentences.find(({ text }) => text.startsWith('It lies in'))?.source).toBe(
      'zones, soil ratings',
    );
    const near = await trail({}, [151, 11], spot);
    expect(near.sentences.find(({ text }) => text.startsWith('It lies in'))?.source).toBe(
      'zones, yield maps',
    );
    // A map of the good ground alone is levelled by the soils: 200 is over the field's 175, not the field's own mean.
    expect(near.text).toContain(
      'It yields 14 % over the field, give or take less than 1 as measured that year; over in 1 of 1 year.',
    );
  });

  it('tells soil without a value from ground without a soil', async () => {
    const rings = [box(-200, -150, 200, 300), box(0, -150, 100, 300)];
    const columns = { MUSYM: ['Hill', 'Pit'], CORN_BU: [150, null] };
    const own = {
      ...inputs,
      sources: new Map([...inputs.sources, ['soils', polygons('soils.geojson', rings, columns)]]),
    };
    expect((await trail({}, west, own)).text).toContain('The soil here is rated 150.0 bu/ac');
    expect((await trail({}, [51, 11], own)).text).toContain(
      'The soil here, Pit, is mapped, but without a value.',
    );
    expect((await trail({}, [151, 11], own)).text).toContain('No soil is mapped here.');
  });

  it('tells ground without a value from spots tidied into a zone', async () => {
    const evidence = {
      yields: [{ source: 'yield', column: 'yield', unit: 'bu/ac' as const, crop: 'corn' }],
      // An islet of two points is a pass too short to trust, by the usual rules.
      cleaning: { 'short-pass': { use: false } },
    };
    const mapped = (rows: [number, number, number][]) => ({
      ...inputs,
      sources: new Map([...inputs.sources, ['yield', points('y.csv', rows)]]),
    });
    const all = patch(-200);
    const zones = { count: 1, smallest_ac: 3, smooth_m: 0 };
    const half = await trail({ evidence, zones }, west, mapped(all.filter(([x]) => x > 0)));
    expect(half.text).toContain(
      "No layer in use has a value here, so it is planted for the field's expected 200 bu/ac.",
    );
    const hole = mapped(all.filter(([x, y]) => Math.hypot(x - 100, y) > 65));
    const gap = await trail({ evidence, zones }, [91, 11], hole);
    expect(gap.text).toContain(
      'No layer in use has a value here. The spot is too small for a zone and goes with Whole field around it',
    );
    const islet = mapped(all.filter(([x, y]) => x > 0 || Math.hypot(x + 130, y - 10) < 22));
    const lone = await trail({ evidence, zones }, [-131, 11], islet);
    expect(lone.text).toContain(
      'This spot by itself: 150 bu/ac. It is too small for a zone and goes with the ground',
    );
  });
});

/** Points on both halves of the field from `from` m east on, a row every 10 m. */
function patch(from: number): [number, number, number][] {
  const rows: [number, number, number][] = [];
  for (let x = -195; x < 200; x += 10)
    for (let y = -145; y < 150; y += 10) if (x > from) rows.push([x, y, x < 0 ? 150 : 200]);
  return rows;
}
