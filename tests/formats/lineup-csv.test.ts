import { describe, expect, it } from 'vitest';
import { newProduct } from '../../src/engine/lineup/new-product.ts';
import type { Product, RatingScale } from '../../src/engine/lineup/product.ts';
import { random } from '../../src/engine/math/random.ts';
import { listOf, listText } from '../../src/formats/lineup/list-text.ts';
import { priceOf } from '../../src/formats/lineup/price-text.ts';
import { type LineupOptions, readLineupCsv } from '../../src/formats/lineup/read-lineup-csv.ts';
import { scaleOf, scaleText } from '../../src/formats/lineup/scale-text.ts';
import { lineupTemplate } from '../../src/formats/lineup/template-lineup.ts';
import { trialTemplate } from '../../src/formats/lineup/template-trial.ts';
import { writeLineupCsv } from '../../src/formats/lineup/write-lineup-csv.ts';
import { figureOf } from '../../src/formats/text/figure-text.ts';
import { readTrials } from '../../src/formats/trials/read-trials.ts';
import { readLineup } from '../../src/plan/validate.ts';
import { refusalOf, textFile } from './small-files.ts';

const read = (text: string, options: LineupOptions = {}) =>
  readLineupCsv(textFile(text, 'lineup.csv'), options);
const codes = ({ issues }: ReturnType<typeof read>) => issues.map(({ code }) => code);
const back = (products: readonly Product[], scales: readonly RatingScale[]) =>
  readLineupCsv({ name: 'lineup.csv', bytes: writeLineupCsv(products, scales) });

const NINE: RatingScale = { id: '1 to 9, 9 best', lowest: 1, highest: 9, best: 'highest' };
const FIVE: RatingScale = { id: 'disease: score', lowest: 0, highest: 5, best: 'lowest' };
const HEAD = 'name,crop,maturity,seeds per unit,price per unit,drought\n';

describe('a lineup as a table', () => {
  it('gives products with their ratings on declared scales', () => {
    const { products, scales, issues, ledger } = read(
      `${HEAD}scale,,,,,"1 to 9, 9 best"\nWren 98,corn,98,"80,000",$236,7\nPlover,soybean,2.40,140k,58.50,NR\nTeal,corn,104,80 000,,\n`,
    );
    expect(issues).toEqual([]);
    expect(scales).toEqual([NINE]);
    expect(
      products.map(({ id, name, maturity, seedsPerUnit, pricePerUnit }) => [
        id,
        name,
        maturity,
        seedsPerUnit,
        pricePerUnit,
      ]),
    ).toEqual([
      ['wren-98', 'Wren 98', '98', 80000, 236],
      ['plover', 'Plover', '2.40', 140000, 58.5],
      ['teal', 'Teal', '104', 80000, null],
    ]);
    expect(products.map(({ ratings }) => ratings)).toEqual([
      [{ of: 'drought', value: 7, scale: NINE.id }],
      [],
      [],
    ]);
    expect(products[0].response).toBeNull();
    expect(ledger).toEqual({ read: 3, used: 3, repaired: 0, setAside: {} });
  });

  it('leaves ratings out whose direction nobody declares, and says so', () => {
    const without = read(`${HEAD}Wren 98,corn,98,80000,236,7\n`);
    expect(without.products[0].ratings).toEqual([]);
    expect(without.scales).toEqual([]);
    expect(without.issues.map(({ code, where }) => [code, where])).toEqual([
      ['rating-no-direction', 'lineup.csv › drought'],
    ]);
    for (const scale of ['1 to 9', '9 best', '1 to 9, 5 best', 'good', '9 to 1, 9 best'])
      expect(codes(read(`${HEAD}scale,,,,,"${scale}"\nWren 98,corn,98,80000,236,7\n`)), scale).toContain(
        'rating-no-direction',
      );
  });

  it('takes the scale as stated, for one column or for all', () => {
    const text = `${HEAD}Wren 98,corn,98,80000,236,7\n`;
    const one = read(text, { scales: { drought: FIVE } });
    expect(one.scales).toEqual([FIVE]);
    expect(codes(one)).toEqual(['rating-off-scale']);
    const all = read(text, { scale: NINE });
    expect(all.products[0].ratings).toEqual([{ of: 'drought', value: 7, scale: NINE.id }]);
    expect(all.issues).toEqual([]);
  });

  it('leaves out ratings that are off their scale or no numbers', () => {
    const { products, issues } = read(
      `${HEAD}scale,,,,,"1 to 9, 9 best"\nWren,corn,98,80000,236,0\nTeal,corn,98,80000,236,good\nOwl,corn,98,80000,236,5\nRail,corn,98,80000,236,-\n`,
    );
    expect(products.map(({ ratings }) => ratings.length)).toEqual([0, 0, 1, 0]);
    expect(issues.map(({ code, found }) => [code, found])).toEqual([
      ['rating-off-scale', 'line 3'],
      ['rating-not-a-number', "line 4 'good'"],
    ]);
  });

  it('sets aside rows that give no product, each with its reason', () => {
    const { products, issues, ledger } = read(
      `${HEAD}Wren,corn,98,0,236,
Teal,corn,98,80000,-5,
Owl,corn,98,80000.5,20,
,corn,98,80000,20,
Rail,,98,80000,20,
Dove,corn,98,80000,20,
dove,Maize,98,80000,25,
${'Long '.repeat(10)},corn,98,80000,20,
Quail,quinoa,,90000,20,
Emu,quinoa,,,20,
short,row
`,
    );
    expect(products.map(({ name }) => name)).toEqual(['Dove', 'Quail']);
    expect(ledger).toEqual({
      read: 11,
      used: 2,
      repaired: 0,
      setAside: { 'ragged-row': 1, 'not-possible': 5, 'no-name': 1, 'no-crop': 1, 'duplicate-product': 1 },
    });
    expect(
      issues.filter(({ severity }) => severity === 'error').map(({ code, where }) => [code, where]),
    ).toEqual([
      ['lineup-seeds-per-unit', 'lineup.csv › line 2'],
      ['lineup-price', 'lineup.csv › line 3'],
      ['lineup-seeds-per-unit', 'lineup.csv › line 4'],
      ['duplicate-product', 'lineup.csv › line 8'],
      ['lineup-name', 'lineup.csv › line 9'],
      ['lineup-seeds-per-unit', 'lineup.csv › line 11'],
    ]);
  });

  it('says what it did not take of a row it took', () => {
    const { products, issues } = read(
      'name,crop,seeds per unit,price,GDU,treatments,traits,notes,silk colour\nWren,corn,,€ 200,-3,"Marsh Coat; Reed = 4 (x)","Fen = many; Stay",ok,red\nTeal,corn,80k,on request,2500,,,,\n',
    );
    expect(products[0]).toMatchObject({
      seedsPerUnit: 80000,
      pricePerUnit: null,
      gddToMaturity: null,
      treatments: [{ name: 'Reed', pricePerUnit: 4, protectsAgainst: ['x'] }],
      traits: [
        { name: 'Fen', refuge: null },
        { name: 'Stay', refuge: null },
      ],
    });
    expect(products[1].gddToMaturity).toBe(2500);
    expect(issues.map(({ code }) => code).toSorted()).toEqual([
      'lineup-column-unused',
      'lineup-currency',
      'lineup-gdd',
      'lineup-price',
      'lineup-seeds-assumed',
      'trait-refuge',
      'treatment-no-price',
    ]);
  });

  it('is told of when nothing is in it, or it is no table of products', () => {
    expect(codes(read(`${HEAD}Wren,corn,98,0,236,\n`))).toContain('lineup-empty');
    expect(refusalOf(() => read('colour,weight\nred,3\n'))).toBe('lineup-no-names');
    expect(refusalOf(() => read(''))).toBe('csv-no-table');
    expect(refusalOf(() => read('name,crop\nWr\0en,corn\n'))).toBe('csv-binary');
  });

  it('takes the crop as stated where no column tells, and unknown crops as they are', () => {
    expect(
      read('hybrid,seeds/unit\nWren,80000\nTeal,80000\n', { crop: 'corn' }).products.map(({ crop }) => crop),
    ).toEqual(['corn', 'corn']);
    expect(read(`${HEAD}Emu,teff,1,500000,20,\n`).products[0].crop).toBe('teff');
    const german = read('Sorte;Fruchtart;Körner je Einheit;Preis\nZaunkönig;Körnermais;50.000;95,50\n');
    expect(german.products[0]).toMatchObject({ crop: 'corn', seedsPerUnit: 50000, pricePerUnit: 95.5 });
    expect(german.issues.map(({ code }) => code)).toEqual(['lineup-crop-word']);
  });
});

describe('a lineup written as a table', () => {
  const products: readonly Product[] = [
    newProduct({
      id: 'x1',
      name: '=Wren "98"',
      crop: 'corn',
      maturity: '2.10',
      gddToMaturity: 2450.5,
      seedsPerUnit: 80_000,
      pricePerUnit: 0.1 + 0.2,
      treatments: [
        {
          name: 'Marsh; Coat = (new), a\\b',
          pricePerUnit: 12.5,
          protectsAgainst: ['blight, early', 'worm (wire)'],
        },
        { name: 'Reed', pricePerUnit: 0, protectsAgainst: [] },
      ],
      traits: [
        { name: 'Fen Guard', refuge: { share: 0.07, kind: 'blended', note: 'as the label says; see (2)' } },
        { name: 'Stay', refuge: null },
      ],
      ratings: [
        { of: 'drought', value: 7, scale: NINE.id },
        { of: 'drought', value: 2.5, scale: FIVE.id },
        { of: 'price', value: 9, scale: NINE.id },
      ],
      stature: 'tall,\nupright',
      notes: "  'quoted' -5, N/A\r\nsecond line ",
      meterNotes: '-',
      stewardshipNotes: "'=1+1",
    }),
    newProduct({ id: 'x2', name: 'scale', crop: 'Soybeans', seedsPerUnit: 1, notes: '+1' }),
    newProduct({ id: 'x3', name: '007', crop: 'teff', seedsPerUnit: 130_000, pricePerUnit: 0 }),
  ];

  it('is read back the same, whatever its words', () => {
    const own = back(products, [NINE, FIVE]);
    expect(own.issues).toEqual([]);
    expect(own.products).toEqual(products);
    expect(own.scales).toEqual([NINE, FIVE]);
    expect(back([products[1]], []).products).toEqual([products[1]]);
  });

  it('is read back the same, drawn by lot 500 times', () => {
    const WORDS = [
      'Wren',
      'a;b',
      '9 best',
      '"',
      ',',
      '=x',
      '-',
      'N/A',
      '1 to 9',
      "'",
      'é',
      '(',
      ')',
      '\\',
      '%',
      'scale',
      '12',
    ];
    for (let run = 0; run < 500; run++) {
      const dice = random(run);
      const words = () =>
        Array.from({ length: 1 + dice.integer(3) }, () => WORDS[dice.integer(WORDS.length)]).join(' ');
      const drawn = Array.from({ length: 1 + dice.integer(4) }, (_, k) =>
        newProduct({
          id: `p${k}`,
          name: `${k} ${words()}`,
          crop: 'corn',
          maturity: String(90 + dice.integer(20)),
          seedsPerUnit: 1 + dice.integer(200_000),
          pricePerUnit: dice.integer(2) === 0 ? null : dice.uniform() * 400,
          treatments:
            dice.integer(2) === 0
              ? []
              : [{ name: words(), pricePerUnit: dice.integer(30), protectsAgainst: [words()] }],
          traits:
            dice.integer(2) === 0
              ? []
              : [
                  {
                    name: words(),
                    refuge: { share: dice.uniform(), kind: 'separate' as const, note: words() },
                  },
                ],
          notes: words(),
          meterNotes: words(),
          ratings:
            dice.integer(3) === 0 ? [] : [{ of: 'stalks', value: 1 + dice.integer(9), scale: NINE.id }],
        }),
      );
      const rated = drawn.some(({ ratings }) => ratings.length > 0);
      const own = back(drawn, [NINE]);
      expect([run, own.products]).toEqual([run, drawn]);
      expect(own.scales).toEqual(rated ? [NINE] : []);
    }
  });

  it('is a lineup the plan takes', () => {
    const own = back(products, [NINE, FIVE]);
    const document = {
      document: 'eachacre-lineup',
      version: 1,
      name: 'Invented',
      scales: own.scales,
      products: own.products,
    };
    expect(readLineup(document, 'lineup').issues).toEqual([]);
  });
});

describe('templates', () => {
  it('read back without an issue', () => {
    const lineup = read(lineupTemplate());
    expect(lineup.issues).toEqual([]);
    expect(lineup.products.length).toBe(2);
    expect(lineup.scales.length).toBe(2);
    const trials = readTrials(textFile(trialTemplate(), 'template.csv'));
    expect(trials.issues).toEqual([]);
    expect(trials.questions).toEqual([]);
    expect([trials.table.products.length, trials.table.sites.length, trials.ledger.used]).toEqual([2, 2, 24]);
  });
});

describe('words in cells', () => {
  it('are figures as people write them', () => {
    for (const text of ['80000', '80,000', '80.000', '80 000', "80'000", '80k', '80 K', '8e4'])
      expect(figureOf(text, true), text).toBe(80000);
    expect(figureOf('1,234,567', true)).toBe(1234567);
    expect(figureOf('7,5', false)).toBe(7.5);
    expect(figureOf('1.285,50', false)).toBe(1285.5);
    expect(figureOf('1,285.50', false)).toBe(1285.5);
    expect(figureOf('8.125', false)).toBe(8.125);
    expect(figureOf('82.5k', true)).toBe(82500);
    for (const text of ['', '-', 'NR', 'n/a', 'N.R.', 'NaN', 'not rated', '.'])
      expect(figureOf(text, false), text).toBeNull();
    for (const text of ['many', '12 bags', '1-9', '0x10', 'Infinity', '1,2,3'])
      expect(figureOf(text, false), text).toBeNaN();
  });

  it('are prices in dollars, or tell their currency', () => {
    expect(priceOf('$285')).toBe(285);
    expect(priceOf('US$ 1,285.00')).toBe(1285);
    expect(priceOf('285.5 USD')).toBe(285.5);
    expect(priceOf('-$5')).toBe(-5);
    expect(priceOf('€ 285')).toEqual({ currency: '€' });
    expect(priceOf('')).toBeNull();
    expect(priceOf('call')).toBeNaN();
  });

  it('are scales with ends and direction, or nothing', () => {
    const nine = { lowest: 1, highest: 9, best: 'highest' };
    for (const text of [
      '1 to 9, 9 best',
      '1-9 (9 = best)',
      '1–9, best 9',
      '1 to 9, best is 9',
      '1-9, highest is best',
      '1-9 high best',
    ])
      expect(scaleOf(text), text).toMatchObject(nine);
    expect(scaleOf('0 to 5, 0 best')).toEqual({
      id: '0 to 5, 0 best',
      lowest: 0,
      highest: 5,
      best: 'lowest',
    });
    expect(scaleOf('lodging: 1 to 5, lowest is best')).toEqual({
      id: 'lodging',
      lowest: 1,
      highest: 5,
      best: 'lowest',
    });
    for (const text of [
      '',
      '1-9',
      '9 best',
      '1 to 9, 4 best',
      '5 to 5, 5 best',
      '9 to 1, 9 best',
      'high is best',
    ])
      expect(scaleOf(text), text).toBeNull();
    for (const scale of [NINE, FIVE, { id: 'a: b', lowest: -2.5, highest: 0, best: 'lowest' as const }])
      expect(scaleOf(scaleText(scale))).toEqual(scale);
  });

  it('are lists whose marks can be part of a name', () => {
    const items = [
      { name: 'a; b', value: '1 = 2', inside: ['x, y', '(z)'] },
      { name: '\\', value: '', inside: [] },
    ];
    expect(listOf(listText(items))).toEqual(items);
    expect(listOf('Coat = 3; ; Guard (a, ,b)')).toEqual([
      { name: 'Coat', value: '3', inside: [] },
      { name: 'Guard', value: '', inside: ['a', 'b'] },
    ]);
    expect(listOf('a (b; c')).toEqual([{ name: 'a', value: '', inside: ['b; c'] }]);
  });
});
