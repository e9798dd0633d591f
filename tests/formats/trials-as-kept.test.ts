import { describe, expect, it } from 'vitest';
import { isName } from '../../src/formats/lineup/name-rule.ts';
import { questionText, withAnswer } from '../../src/formats/trials/answer-question.ts';
import { readTrials } from '../../src/formats/trials/read-trials.ts';
import type { TrialOptions } from '../../src/formats/trials/trial-options.ts';
import type { TrialRole } from '../../src/formats/trials/trial-role.ts';
import { roleNamed } from '../../src/formats/trials/trial-words.ts';
import { refusal, refusalOf, textFile } from './small-files.ts';

// Tables as people keep them in spreadsheets: every one is invented.
const read = (text: string, options: TrialOptions = {}, name = 'corn trials.csv') =>
  readTrials(textFile(text, name), options);
const role = ({ readings }: ReturnType<typeof read>, own: TrialRole) =>
  readings.find((reading) => reading.role === own)?.column;

describe('columns beside those of a trial', () => {
  it('are no part of it: weights, heights, grades, ranks, means, dates, measures of plots', () => {
    const names = [
      ...['Test Wt', 'Test wt (lb/bu)', 'Test weight', 'TWT', 'Test wt kg/hl', 'No. of tests', 'Trial LSD'],
      ...['Plant height', 'Plt ht', 'Ear ht (in)', 'Lodging %', 'Plants lodged', 'Broken plants %'],
      ...['Barren plants', 'Dropped ears', 'Stand loss', 'Stand loss %', 'Stand rating', 'Plants per ear'],
      ...['Yield rank', 'Yield LSD group', 'LSD group', 'Yield score', 'Yield % of mean', '% of mean'],
      ...['3-yr avg', 'Years tested', 'Year of release', 'Harvest date', 'Planting date', 'Protein %', 'Oil'],
      ...['RM', 'Hybrid RM', 'Maturity', 'Product price', 'Variety type', 'Entry mean', 'Block mean'],
      ...[
        'Plot length',
        'Row width',
        'Rows per plot',
        'Field area',
        'Farm size',
        'Seeds per pod',
        'Seeds/lb',
      ],
      ...['Seed weight', 'Moisture rank', 'Planting moisture', 'Crop stage', 'Seed quality'],
    ];
    expect(names.filter((name) => roleNamed(name) !== null)).toEqual([]);
  });

  it('do not make a site of a test weight, nor a year of an average', () => {
    const { table, readings } = read(
      'Hybrid,Rep,Yield (bu/ac),Test Wt,Final stand,3-yr avg\nWren,1,200,56.0,31000,205\nTeal,1,210,57.5,32000,210\n',
    );
    expect(readings.map((own) => own.column)).toEqual(['Hybrid', 'Final stand', 'Yield (bu/ac)', 'Rep']);
    expect(table.sites).toEqual([{ name: '', year: null, environment_buPerAc: NaN }]);
  });

  it('called trial or site are none where their figures have decimals', () => {
    const own = read('Hybrid,Trial,Site,Yield (bu/ac)\nWren,56.1,1.5,200\nTeal,57.5,2.5,210\n');
    expect([role(own, 'trial'), role(own, 'site')]).toEqual([undefined, undefined]);
  });
});

describe('of several columns that may be one', () => {
  it('names of words go before entries by number', () => {
    const own = read('Entry,Name,Loc,Yield bu/ac\n1,Wren 98,A,180\n2,Teal 104,A,190\n');
    expect(role(own, 'product')).toBe('Name');
    expect(own.questions).toEqual([]);
  });

  it('the field goes before farm and county, asked about where one field name stands in two counties', () => {
    const own = read('hybrid,County,Farm,Field,yield bu/ac\nWren,Fen,A,F1,180\nTeal,Fen,A,F2,190\n');
    expect(role(own, 'site')).toBe('Field');
    expect(own.questions).toEqual([]);
    const twice = read('hybrid,County,Field,yield bu/ac\nWren,Fen,F1,180\nTeal,Down,F1,190\n');
    expect(twice.questions.map(({ about, options }) => [about, options.map(({ value }) => value)])).toEqual([
      ['site column', ['Field', 'County']],
    ]);
  });

  it('a final stand goes before an early one, also where one is always the same share of the other', () => {
    const own = read(
      'hybrid,site,early stand,final stand,yield bu/ac\nWren,A,21340,20460,180\nTeal,A,26190,25110,190\nOwl,A,31040,29760,190\n',
    );
    expect(role(own, 'stand')).toBe('final stand');
    const unlike = read(
      'hybrid,site,stand a,stand b,yield bu/ac\nWren,A,21340,20460,180\nTeal,A,26190,25110,190\nOwl,A,31040,29760,190\n',
    );
    expect(unlike.questions.map(({ about }) => about)).toEqual(['stand column']);
  });

  it('a yield goes before means over years', () => {
    expect(role(read('Hybrid,2-yr avg yield,Yield\nWren,198,201\nTeal,199,205\n'), 'yield')).toBe('Yield');
  });

  it('a column called by no more than its unit is a yield, or a stand', () => {
    const own = read('Hybrid,Location,PPA,BPA\nWren,A,30000,180\nTeal,A,32000,190\n');
    expect([role(own, 'stand'), role(own, 'yield')]).toEqual(['PPA', 'BPA']);
    expect(role(read('Hybrid,Location,kg/ha\nWren,A,10000\nTeal,A,11000\n'), 'yield')).toBe('kg/ha');
  });
});

describe('cells without a plain figure', () => {
  const found = (own: ReturnType<typeof read>, code: string) =>
    own.issues.filter((issue) => issue.code === code).map((issue) => issue.found);
  const yields = (cells: readonly string[]) =>
    read(`Hybrid,Site,Rep,Yield bu/ac\n${cells.map((cell, k) => `H${k},A,1,${cell}\n`).join('')}`);

  it('that say a figure is missing are blanks, however many', () => {
    const own = yields(['*', '180', 'missing', 'miss', 'lost', 'nd', '190', '.', '-', '--', '**', '185']);
    expect([...own.table.yield_buPerAc]).toEqual([180, 190, 185]);
    expect(own.ledger.setAside).toEqual({ 'no-yield': 9 });
    expect(found(own, 'trial-not-figures')).toEqual([]);
  });

  it('that are words are not known, and told with their lines, down to half a column of figures', () => {
    const own = yields(['hailed', '180', '190', 'deer']);
    expect(own.ledger).toEqual({ read: 4, used: 2, repaired: 0, setAside: { 'no-yield': 2 } });
    expect(found(own, 'trial-not-figures')).toEqual(["'hailed', 'deer': lines 2, 5"]);
    // One in forty as one in two.
    const few = yields([...Array.from({ length: 39 }, (_, k) => String(180 + k)), 'hailed']);
    expect(found(few, 'trial-not-figures')).toEqual(["'hailed': line 41"]);
    expect(few.issues.map(({ code }) => code)).not.toContain('csv-not-a-number');
  });

  it('of a stand leave the plots without one', () => {
    const own = read(
      'Hybrid,Site,Stand (plants/ac),Yield bu/ac\nA,X,*,180\nB,X,30000,190\nC,X,gone,190\nD,X,31000,190\n',
    );
    expect([...own.table.stand_plantsPerAc]).toEqual([NaN, 30000, NaN, 31000]);
  });

  it('with stars or letters of significance after a figure are that figure', () => {
    const own = yields(['212*', '212.4 ab', '198 b', '190k', '201 a-c', '187.5 ***', '180']);
    expect([...own.table.yield_buPerAc]).toEqual([212, 212.4, 198, 190, 201, 187.5, 180]);
    expect(found(own, 'trial-marked-figures')[0]).toContain("'212*', '212.4 ab', '198 b'");
    // No letters of significance: they stand in the order of the alphabet.
    expect(found(yields(['212 zb', '212', '211']), 'trial-not-figures')).toEqual(["'212 zb': line 2"]);
    // Of counts a k is a thousand.
    const counts = read('Hybrid,Site,Stand per acre,Yield bu/ac\nA,X,24k,180\nB,X,32k,190\nC,X,30000,1\n');
    expect([...counts.table.stand_plantsPerAc]).toEqual([24000, 32000, 30000]);
  });

  it('with a % after a moisture are that moisture', () => {
    const own = read('Hybrid,Site,Wet yield bu/ac,Moisture\nA,X,200,20%\nB,X,200,15.5 %\n');
    // (100 − 20)/(100 − 15.5): University of Wisconsin Extension, Harvest Math 101.
    expect(own.table.yield_buPerAc[0]).toBeCloseTo(200 * (80 / 84.5), 9);
  });

  it('with commas in a unit that has few bushels before its decimals are decimals, as proposed', () => {
    const own = read('Hybrid\tSite\tYield t/ha\nA\tX\t9,512\nB\tX\t10,204\n');
    expect(own.questions.map(({ about, proposed, options }) => [about, options[proposed].value])).toEqual([
      ['yield commas', 'decimals'],
    ]);
    expect(own.table.yield_buPerAc[0]).toBeCloseTo(9.512 * 15.93177, 2);
  });
});

describe('rows that sum up', () => {
  const HEAD = 'product,site,rep,stand (plants/ac),yield (bu/ac)\n';
  const plots = (names: readonly string[]) =>
    names
      .flatMap((name) =>
        ['A', 'B'].flatMap((site) => [1, 2].map((rep) => `${name},${site},${rep},30000,18${rep}\n`)),
      )
      .join('');

  it('are no products called much the same: SE 105, CV 12, GD 22, Media', () => {
    const names = ['SE 105', 'CV 12', 'GD 22', 'CV-7', 'Mean Green', 'Range', 'Media'];
    const { table, ledger } = read(`${HEAD}${plots(names)}`);
    expect(table.products.map(({ name }) => name)).toEqual(names);
    expect(ledger).toEqual({ read: 28, used: 28, repaired: 0, setAside: {} });
  });

  it('at the foot are set aside with a warning that names their words', () => {
    const foot = [
      ...['Mean', 'LSD (0.05)', 'LSD 0.10', 'LSD 5%', 'CV %', 'C.V.', 'Total', 'Grand total', 'NS', 'P>F'],
      ...['Trial average', 'Check mean', 'Range', 'Std Dev', 'Pr > F', 'R2', 'Max', 'Min', 'n', 'Overall'],
      ...['Average of checks', 'Site mean', 'Significance', 'F-test', 'Sum'],
    ];
    const { table, ledger, issues } = read(
      `${HEAD}${plots(['Wren', 'Teal'])}${foot.map((word) => `${word},,,,9\n`).join('')}`,
    );
    expect(table.products.map(({ name }) => name)).toEqual(['Wren', 'Teal']);
    expect(ledger.setAside).toEqual({ 'summary-row': foot.length });
    const told = issues.find(({ code }) => code === 'trial-summary-row');
    expect(told?.severity).toBe('warning');
    expect(told?.found).toContain('(Mean, LSD (0.05), LSD 0.10');
  });

  it('are means at the end of every site, where no repetition tells plots', () => {
    const rows = ['A', 'B'].map((site) => `Wren,${site},180\nTeal,${site},190\nMean,${site},185\n`).join('');
    const { table, ledger } = read(`product,site,yield (bu/ac)\n${rows}`);
    expect(table.products.map(({ name }) => name)).toEqual(['Wren', 'Teal']);
    expect(ledger.setAside).toEqual({ 'summary-row': 2 });
    // Elsewhere than at the end it is a product.
    const amid = ['A', 'B'].map((site) => `Wren,${site},180\nMedia,${site},185\nTeal,${site},190\n`).join('');
    expect(read(`product,site,yield (bu/ac)\n${amid}`).table.products.length).toBe(3);
  });
});

describe('figures no plot has', () => {
  const rows = (figures: readonly number[], stand = 30000) =>
    figures.map((own, k) => `H${k % 3},S${k % 2},${k},${stand},${own}\n`).join('');
  const HEAD = 'product,site,plot,stand (plants/ac),yield (bu/ac)\n';

  it('set the plot aside with its line: 600 bu/ac of soybeans, 1,438 of corn', () => {
    const soy = read(`${HEAD}${rows([60, 58, 600, 61, 59], 120000)}`, { crop: 'soybean' });
    expect(soy.ledger.setAside).toEqual({ 'yield-not-possible': 1 });
    const told = soy.issues.find(({ code }) => code === 'trial-yield-not-possible');
    expect([told?.found.endsWith(': line 4'), told?.expected]).toEqual([
      true,
      'yields of 0 to 260 bu/ac (soybean)',
    ]);
    expect(read(`${HEAD}${rows([180, 1438, 190])}`).ledger.setAside).toEqual({ 'yield-not-possible': 1 });
  });

  it('leave the highest yields on record', () => {
    // National Corn Yield Contest 2023; Georgia Soybean Production Contest 2024; Guinness World Records, crops of 2022.
    const records = {
      corn: [623.84, 1],
      soybean: [218.2856, 1],
      wheat: [17.96, 14.8694],
      barley: [16.21, 18.5867],
    };
    for (const [crop, [figure, inBushels]] of Object.entries(records)) {
      const low = { corn: 200, soybean: 60, wheat: 90, barley: 90 }[crop] ?? 0;
      const table = [low, low, low, low, figure * inBushels].map((own, k) => `H,S,${k},${own}\n`).join('');
      const { ledger } = read(`product,site,plot,yield (bu/ac)\n${table}`, { crop });
      expect([crop, ledger.used]).toEqual([crop, 5]);
    }
  });

  it('set the plot aside with a slip in its stand: 220,000 plants an acre of corn', () => {
    const own = read(`${HEAD}H,S,1,22000,180\nH,S,2,220000,180\nH,S,3,32000,190\n`);
    expect(own.ledger.setAside).toEqual({ 'stand-not-possible': 1 });
    expect(own.issues.find(({ code }) => code === 'trial-stand-not-possible')?.found).toContain('line 3');
  });

  it('are codes where 999 or 0 stands again and again: not known, with a question', () => {
    for (const code of [999, 9999, 0]) {
      const text = `${HEAD}${rows([180, code, 190, 185, code, 200])}`;
      const own = read(text);
      expect([...own.table.yield_buPerAc]).toEqual([180, 190, 185, 200]);
      expect(own.issues.find((issue) => issue.code === 'trial-missing-code')?.found).toBe(
        `${code} in 2 rows, far from the other figures: lines 3, 6`,
      );
      expect(own.questions.map(({ about, column }) => [about, column])).toEqual([
        ['yield codes', 'yield (bu/ac)'],
      ]);
      const asked = own.questions[0];
      const figures = read(text, withAnswer({}, asked, 'figures'));
      expect([figures.questions, figures.ledger.used]).toEqual([[], code === 0 ? 6 : 4]);
      expect(read(text, withAnswer({}, asked, 'not known')).questions).toEqual([]);
    }
  });

  it('under zero are codes without a question, and of a stand leave the plot', () => {
    const own = read(
      `${HEAD}H,S,1,-999,180\nH,S,2,-999,185\nH,S,3,32000,190\nH,S,4,30000,190\nH,S,5,30000,187\n`,
    );
    expect([...own.table.stand_plantsPerAc]).toEqual([NaN, NaN, 32000, 30000, 30000]);
    expect(own.questions).toEqual([]);
  });

  it('are none where they lie among the others, or stand once', () => {
    const kg = read(
      'product,site,plot,yield (kg/ha)\nA,S,1,9999\nB,S,2,9999\nA,S,3,10200\nB,S,4,9800\nA,S,5,10100\n',
    );
    expect([kg.ledger.used, kg.questions]).toEqual([5, []]);
    expect(read(`${HEAD}${rows([180, 0, 190, 185])}`).ledger.used).toBe(4);
    const failed = read(`${HEAD}${rows([0, 0, 20, 60, 110, 190])}`);
    expect([failed.ledger.used, failed.questions]).toEqual([6, []]);
  });
});

describe('what is said of a table', () => {
  it('a crop as it is stated is read as one of a column: Corn, maize', () => {
    const text = 'product,site,seeding rate (seeds/ac),yield\nWren,A,30000,180\nTeal,A,34000,185\n';
    for (const crop of ['Corn', 'maize', ' CORN ', 'Mais'])
      expect([...read(text, { crop }, 'a.csv').table.stand_plantsPerAc]).toEqual([28500, 32300]);
  });

  it('answers of questions settle them', () => {
    const text = 'product,site,yield (bu/ac),moisture\nWren,A,200,20\nTeal,A,200,15.5\n';
    const [asked] = read(text).questions;
    expect(questionText(asked)).toBe('Are the yields in yield (bu/ac) wet or dry?');
    const wet = read(text, withAnswer({}, asked, 'wet'));
    expect(wet.questions).toEqual([]);
    expect(wet.table.yield_buPerAc[0]).toBeCloseTo(200 * (80 / 84.5), 9);
    expect(read(text, withAnswer({}, asked, 'dry')).table.yield_buPerAc[0]).toBe(200);
  });
});

describe('stands counted along the row', () => {
  const text = (name: string, width = 'row width (in)', inches = '15') =>
    `product,site,${name},${width},yield\nWren,A,6,${inches},55\nTeal,A,8,${inches},58\n`;

  it('are over an area with the width of the rows', () => {
    // 43,560 ft² an acre over rows of 1.25 ft are 34,848 ft of row.
    const own = read(text('plants per foot'), { crop: 'soybean' });
    expect(own.table.stand_plantsPerAc[0]).toBeCloseTo(6 * 34_848, 4);
    expect(own.readings.find((reading) => reading.role === 'stand')?.because).toContain('row width (in)');
    const seeds = read(text('seeds/ft of row'), { crop: 'soybean', emergence: 1 });
    expect(seeds.table.stand_plantsPerAc[0]).toBeCloseTo(6 * 34_848, 4);
    // 10,000 m² a hectare over rows of 0.5 m are 20,000 m of row; 2.4710538 ac a hectare.
    const metric = read(text('Pflanzen/lfm', 'Reihenweite (cm)', '50'), { crop: 'soybean' });
    expect(metric.table.stand_plantsPerAc[0]).toBeCloseTo((6 * 20_000) / 2.4710538, 1);
    // In rows 30 inches apart 17.424 ft are a thousandth of an acre.
    const corn = read(
      text('plants in 17.424 ft', 'row spacing (in)', '30')
        .replaceAll(',6,', ',30,')
        .replaceAll(',8,', ',32,')
        .replaceAll(',55', ',180')
        .replaceAll(',58', ',190'),
    );
    expect(corn.table.stand_plantsPerAc[0]).toBeCloseTo(30_000, 6);
  });

  it('are refused without it, with what to do', () => {
    const bare = 'product,site,seeds per foot,yield\nWren,A,6,55\nTeal,A,8,58\n';
    const told = refusal(() => read(bare, { crop: 'soybean' }));
    expect(told?.issue.code).toBe('trial-unit');
    expect(told?.issue.found).toContain("'seeds per foot' counts along the row");
    expect(told?.issue.remedy).toContain('row width');
    expect(read(bare, { crop: 'soybean', columns: { rate: null } }).ledger.used).toBe(2);
  });
});

describe('rows alike', () => {
  const HEAD = 'product,site,stand (plants/ac),yield (bu/ac)\n';
  const row = (k: number) => `H${k % 3},A,${24000 + 1000 * k},${180 + k}\n`;

  it('are replicates where no column tells plots apart', () => {
    const own = read(`${HEAD}Wren,A,24000,180\nWren,A,24000,180\nWren,A,28000,190\nWren,A,28000,190\n`);
    expect(own.ledger.used).toBe(4);
    expect(own.issues.find(({ code }) => code === 'trial-alike-rows')?.found).toContain('lines 3, 5');
  });

  it('are copies where a column does', () => {
    const own = read('product,site,plot,yield (bu/ac)\nWren,A,1,180\nWren,A,1,180\nTeal,A,2,185\n');
    expect(own.ledger.setAside).toEqual({ 'duplicate-row': 1 });
  });

  it('are copies where a run of rows, or the whole table, stands twice', () => {
    const block = Array.from({ length: 6 }, (_, k) => row(k)).join('');
    const own = read(`${HEAD}${block}${row(10)}${block}${row(11)}`);
    expect(own.ledger.setAside).toEqual({ 'duplicate-row': 6 });
    expect(read(`${HEAD}${row(0)}${row(1)}${row(0)}${row(1)}`).ledger.setAside).toEqual({
      'duplicate-row': 2,
    });
  });
});

describe('tables that say little', () => {
  it('of names alone are told so, not that they have no crop', () => {
    expect(refusalOf(() => read('product,site,yield\n', {}, 'a.csv'))).toBe('trial-no-rows');
  });

  it('of blank lines alone are told so; blank lines between rows are no rows', () => {
    expect(refusal(() => read('\n \n\n'))?.issue.found).toBe('only blank lines');
    const own = read('product,site,yield bu/ac\n  \nWren,A,180\n \t \nTeal,A,190\n');
    expect(own.ledger).toEqual({ read: 2, used: 2, repaired: 0, setAside: {} });
  });

  it('with more words than figures for a yield are told which column', () => {
    const told = refusal(() => read('product,site,yield\nWren,A,good\nTeal,A,bad\nOwl,A,180\n'));
    expect([told?.issue.code, told?.issue.found]).toEqual([
      'trial-no-yield',
      'fewer figures than words in column yield',
    ]);
  });

  it('of which most is set aside for one reason are told as wrong', () => {
    const own = read(
      'product,site,yield bu/ac\nWren,A,180\n,A,190\nTeal,A,-5\nOwl,,180\nOwl,,181\nRook,,190\nCrane,,191\nTern,,181\n',
    );
    const told = own.issues.find(({ code }) => code === 'trial-mostly-set-aside');
    expect([told?.severity, told?.found]).toEqual(['error', '5 of 8 rows set aside for one reason: no site']);
  });

  it('hold names no longer than a lineup does, told where they are cut', () => {
    const long = (tail: string) => `Wren 98 ${'x'.repeat(60)} ${tail}`;
    const own = read(`product,site,yield bu/ac\n${long('a')},A,180\n${long('b')},A,190\nTeal,A,185\n`);
    const names = own.table.products.map(({ name }) => name);
    expect(names).toEqual([`Wren 98 ${'x'.repeat(32)}`, `Wren 98 ${'x'.repeat(30)} 2`, 'Teal']);
    expect(names.every(isName)).toBe(true);
    expect(own.issues.find(({ code }) => code === 'trial-long-product')?.severity).toBe('warning');
  });
});

describe('sheets with merged cells', () => {
  const HEAD = 'product,site,rep,stand (plants/ac),yield (bu/ac)\n';
  const rows = (text: string) => read(`${HEAD}${text}`);
  const filled = (own: ReturnType<typeof read>) =>
    own.issues.filter(({ code }) => code === 'trial-filled-down').map(({ where, effect }) => [where, effect]);

  it('have names for those under them, told with how many', () => {
    const own = rows(
      'Wren,A,R1,24000,180\n,,R2,28000,185\n,,R3,32000,190\n,B,R1,24000,170\n,,R2,28000,175\n,,R3,32000,171\nTeal,A,R1,24000,160\n,,R2,28000,165\n,,R3,32000,166\nMean,,,,175\nLSD (0.05),,,,9\n',
    );
    expect(own.ledger).toEqual({ read: 11, used: 9, repaired: 0, setAside: { 'summary-row': 2 } });
    expect([...own.table.product]).toEqual([0, 0, 0, 0, 0, 0, 1, 1, 1]);
    expect([...own.table.site]).toEqual([0, 0, 0, 1, 1, 1, 0, 0, 0]);
    expect(filled(own)).toEqual([
      ['corn trials.csv › product', '7 blank cells are read as the cell above them'],
      ['corn trials.csv › site', '6 blank cells are read as the cell above them'],
    ]);
    expect(own.questions).toEqual([]);
  });

  it('are asked about where blanks are no plain blocks, and are gaps where they are few', () => {
    const text =
      'Wren,A,1,24000,180\n,A,2,28000,185\nTeal,A,1,24000,160\nOwl,A,2,28000,165\n,A,3,32000,166\nRook,A,1,24000,167\n';
    const own = rows(text);
    expect(own.questions.map(({ about, options, proposed }) => [about, options[proposed].value])).toEqual([
      ['product blanks', 'not known'],
    ]);
    expect(own.ledger.setAside).toEqual({ 'no-product': 2 });
    const above = read(`${HEAD}${text}`, withAnswer({}, own.questions[0], 'as above'));
    expect([above.ledger.used, above.questions]).toEqual([6, []]);
    const few = rows('Wren,A,1,24000,180\n,A,2,28000,185\nTeal,A,1,24000,160\nOwl,A,2,28000,165\n');
    expect([few.questions, filled(few), few.ledger.used]).toEqual([[], [], 3]);
  });

  it('are not stands that were counted in some plots only', () => {
    const own = rows(
      'Wren,A,1,24310,180\nWren,A,2,,185\nTeal,A,1,25200,160\nTeal,A,2,,165\nOwl,A,1,23990,166\nOwl,A,2,,164\n',
    );
    expect(own.table.stand_plantsPerAc.filter((stand) => Number.isNaN(stand)).length).toBe(3);
    const levels = rows(
      'Wren,A,1,24000,180\nTeal,A,2,,185\nWren,A,1,32000,160\nTeal,A,2,,165\nWren,B,1,24000,166\nTeal,B,2,,164\nWren,B,1,32000,161\nTeal,B,2,,165\n',
    );
    expect(levels.questions.map(({ about }) => about)).toEqual(['stand blanks']);
    expect([...levels.table.stand_plantsPerAc].slice(0, 4)).toEqual([24000, 24000, 32000, 32000]);
  });
});

describe('titles over a table', () => {
  it('filled up with commas to its width are read past', () => {
    const own = read(
      'Invented Growers Cooperative,,,,,\nCorn population trial 2023,,,,,\n,,,,,\nHybrid,Site,Year,Rep,Stand,Yield\n,,,,plants/ac,bu/ac\nWren,A,2023,1,22000,144.8\nTeal,A,2023,1,27000,150\nMean,,,,,147\n* not significant,,,,,\n',
      { crop: 'corn' },
      'a.csv',
    );
    expect(own.ledger).toEqual({ read: 4, used: 2, repaired: 0, setAside: { 'summary-row': 2 } });
    expect([...own.table.stand_plantsPerAc]).toEqual([22000, 27000]);
    const told = own.issues.find(({ code }) => code === 'csv-preamble');
    expect(told?.found).toBe('3 lines before the table');
    expect(told?.effect).toContain('Line 4 is taken');
  });
});

describe('yields side by side', () => {
  const asked = ({ questions }: ReturnType<typeof read>) =>
    questions.map(({ about, options }) => [about, options.map(({ value }) => value)]);
  const told = ({ issues }: ReturnType<typeof read>) =>
    issues.find(({ code }) => code === 'trial-side-by-side')?.found;

  it('of stands are plots each, and asked about: stand or seeding rate', () => {
    const heads = {
      bare: '22000,27000,32000,37000,42000',
      words: 'Yield at 22k,Yield at 27k,Yield at 32k,Yield at 37k,Yield at 42k',
      commas: '"22,000","27,000","32,000","37,000","42,000"',
      unit: 'Yield (bu/ac) 22000,Yield (bu/ac) 27000,Yield (bu/ac) 32000,Yield (bu/ac) 37000,Yield (bu/ac) 42000',
    };
    for (const [name, head] of Object.entries(heads)) {
      const text = `Hybrid,Site,Rep,${head}\nWren,A,1,144,152,158,155,146\nTeal,A,1,157,162,171,,134\n`;
      const own = read(text);
      expect([name, ...own.table.stand_plantsPerAc]).toEqual([
        name,
        ...[22000, 27000, 32000, 37000, 42000],
        ...[22000, 27000, 32000, 42000],
      ]);
      expect([...own.table.yield_buPerAc]).toEqual([144, 152, 158, 155, 146, 157, 162, 171, 134]);
      expect(own.ledger).toEqual({ read: 9, used: 9, repaired: 0, setAside: {} });
      expect(told(own)).toBe('5 columns of yields, one a stand: 22,000 to 42,000');
      expect(asked(own)).toEqual([['columns across', ['stand', 'rate']]]);
      const sown = read(text, withAnswer({ emergence: 0.9 }, own.questions[0], 'rate'));
      expect(sown.table.stand_plantsPerAc[0]).toBeCloseTo(19800, 6);
      expect(sown.questions).toEqual([]);
    }
    const clear = read('Hybrid,Site,pop_24000,pop_28000\nWren,A,144,152\nTeal,A,157,162\n');
    expect([asked(clear), clear.table.stand_plantsPerAc[1]]).toEqual([[], 28000]);
    const seeds = read('Hybrid,Site,seeding rate 24000,seeding rate 28000\nWren,A,144,152\nTeal,A,157,162\n');
    expect([asked(seeds), seeds.table.stand_plantsPerAc[1]]).toEqual([[], 26600]);
  });

  it('of years are plots of each year, with the moisture of that year', () => {
    const own = read(
      'Hybrid,Site,2023 wet yield,2024 wet yield,2023 moisture,2024 moisture,2-yr avg\nWren,A,200,210,20,15.5,205\nTeal,A,190,195,15.5,20,192\n',
    );
    expect(own.table.sites.map(({ year }) => year)).toEqual([2023, 2024]);
    // (100 − 20)/(100 − 15.5): University of Wisconsin Extension, Harvest Math 101.
    expect([...own.table.yield_buPerAc]).toEqual([200 * (80 / 84.5), 210, 190, 195 * (80 / 84.5)]);
    expect(asked(own)).toEqual([]);
    const short = read('Hybrid,Site,yield 23,yield 24\nWren,A,200,210\nTeal,A,190,195\n');
    expect(short.table.sites.map(({ year }) => year)).toEqual([2023, 2024]);
    expect(asked(short)).toEqual([['columns across', ['year', 'stand', 'rate']]]);
    const plants = read('Hybrid,Site,yield 22,yield 27,yield 32\nWren,A,200,210,199\nTeal,A,190,195,180\n');
    expect([...plants.table.stand_plantsPerAc].slice(0, 3)).toEqual([22000, 27000, 32000]);
    expect(asked(plants)).toEqual([['columns across', ['stand', 'rate', 'year']]]);
  });

  it('of places are plots of each place, means beside them left out', () => {
    const numbered = read(
      'Hybrid,Rep,Site01 yield,Site02 yield,Site03 yield\nWren,1,161,173,186\nTeal,1,166,176,192\n',
    );
    expect(numbered.table.sites.map(({ name }) => name)).toEqual(['Site01', 'Site02', 'Site03']);
    expect(asked(numbered)).toEqual([]);
    const named = read('Hybrid,Ames yield,Yield Boone (bu/ac),Cass yield\nWren,161,173,186\nTeal,166,,192\n');
    expect(named.table.sites.map(({ name }) => name)).toEqual(['Ames', 'Boone', 'Cass']);
    expect(named.ledger.used).toBe(5);
    const bare = read(
      'Hybrid,Ames,Boone,Cass,Mean,Lodging %\nWren,161,173,186,173,2\nTeal,166,176,192,178,3\n',
    );
    expect(bare.table.sites.map(({ name }) => name)).toEqual(['Ames', 'Boone', 'Cass']);
    expect(asked(bare)).toEqual([['columns across', ['site', 'none']]]);
    expect(
      refusalOf(() =>
        read(
          'Hybrid,Ames,Boone,Cass\nWren,161,173,186\nTeal,166,176,192\n',
          withAnswer({}, bare.questions[0], 'none'),
        ),
      ),
    ).toBe('trial-no-yield');
  });

  it('of products are plots of each product where site and stand are told', () => {
    const own = read(
      'Site,Rep,Stand,Heron 108,Kestrel 101,Wren 99\nA,1,22000,133,143,144\nA,1,27000,153,hail,140\nB,1,22000,159,161,147\n',
    );
    expect(own.table.products.map(({ name }) => name)).toEqual(['Heron 108', 'Kestrel 101', 'Wren 99']);
    expect(own.ledger).toEqual({ read: 9, used: 8, repaired: 0, setAside: { 'no-yield': 1 } });
    expect(own.issues.find(({ code }) => code === 'trial-not-figures')?.found).toBe("'hail': line 3");
    const lost = read('Hybrid,Site,Yield 2023,Yield 2024\nWren,A,lost,173\nTeal,A,hail,176\nOwl,A,180,150\n');
    expect(lost.ledger).toEqual({ read: 5, used: 4, repaired: 0, setAside: { 'no-yield': 1 } });
    expect(lost.issues.filter(({ code }) => code === 'trial-not-figures').length).toBe(1);
  });

  it('of repetitions are plots of each; without a word it is asked', () => {
    const own = read('Hybrid,Site,Yield R1,Yield R2\nWren,A,161,173\nTeal,A,166,176\n');
    expect([[...own.table.block], asked(own)]).toEqual([[0, 1, 0, 1], []]);
    const rep = read('Hybrid,Site,Rep 1,Rep 2,Rep 3\nWren,A,161,173,170\nTeal,A,166,176,175\n');
    expect([[...rep.table.block], asked(rep)]).toEqual([[0, 1, 2, 0, 1, 2], []]);
    const counted = read('Hybrid,Site,Yield 1,Yield 2\nWren,A,161,173\nTeal,A,166,176\n');
    expect(asked(counted)).toEqual([['columns across', ['rep', 'site']]]);
  });

  it('are none where they are other measures, or a column is stated', () => {
    for (const head of [
      'V3 height,V6 height',
      'moisture 2023,moisture 2024',
      'GDU 1,GDU 2',
      'stand 1,stand 2',
    ]) {
      const own = read(`Hybrid,Site,Yield bu/ac,${head}\nWren,A,161,20,25\nTeal,A,166,21,26\n`);
      expect([head, own.ledger.used, told(own)]).toEqual([head, 2, undefined]);
    }
    const grades = 'Hybrid,Drought,Stalks,Roots\nWren,7,6.5,8\nTeal,6,7,7\n';
    expect(refusalOf(() => read(grades))).toBe('trial-no-yield');
    const stated = read('Hybrid,Site,yield 2023,yield 2024\nWren,A,161,173\nTeal,A,166,176\n', {
      columns: { yield: 'yield 2024' },
    });
    expect([...stated.table.yield_buPerAc]).toEqual([173, 176]);
    const beside = read('Hybrid,Site,Yield,Yield 2023,Yield 2024\nWren,A,161,173,170\nTeal,A,166,176,175\n');
    expect(beside.questions[0].options[beside.questions[0].proposed].value).toBe('none');
  });
});
