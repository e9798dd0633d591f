import { describe, expect, it } from 'vitest';
import { readTrials } from '../../src/formats/trials/read-trials.ts';
import type { TrialOptions } from '../../src/formats/trials/trial-options.ts';
import type { TrialRole } from '../../src/formats/trials/trial-role.ts';
import { roleNamed } from '../../src/formats/trials/trial-words.ts';
import { textFile } from './small-files.ts';

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
