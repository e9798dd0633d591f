import { describe, expect, it } from 'vitest';
import { readTrials } from '../../src/formats/trials/read-trials.ts';
import type { TrialOptions } from '../../src/formats/trials/trial-options.ts';
import { refusal, refusalOf, textFile } from './small-files.ts';

const read = (text: string, options: TrialOptions = {}, name = 'corn trials.csv') =>
  readTrials(textFile(text, name), options);
const codes = ({ issues }: ReturnType<typeof read>) => issues.map(({ code }) => code);

const HEAD = 'product,site,year,rep,stand (plants/ac),yield (bu/ac)\n';

describe('a trial table', () => {
  it('gives plots with their product, site, stand and yield', () => {
    const { table, issues, ledger, questions } = read(
      `${HEAD}Wren 98,Mill Lane,2024,1,24000,171.5\nWren 98,Mill Lane,2024,2,32000,188\nTeal 104,Fen End,2025,1,28000,190\n`,
    );
    expect(issues).toEqual([]);
    expect(questions).toEqual([]);
    expect(table.products).toEqual([
      { name: 'Wren 98', crop: 'corn' },
      { name: 'Teal 104', crop: 'corn' },
    ]);
    expect(table.sites).toEqual([
      { name: 'Mill Lane', year: 2024, environment_buPerAc: NaN },
      { name: 'Fen End', year: 2025, environment_buPerAc: NaN },
    ]);
    expect([...table.product]).toEqual([0, 0, 1]);
    expect([...table.site]).toEqual([0, 0, 1]);
    expect([...table.block]).toEqual([0, 1, 0]);
    expect([...table.stand_plantsPerAc]).toEqual([24000, 32000, 28000]);
    expect([...table.yield_buPerAc]).toEqual([171.5, 188, 190]);
    expect(ledger).toEqual({ read: 3, used: 3, repaired: 0, setAside: {} });
  });

  it('sets aside what is no plot, by reason and line', () => {
    const { table, issues, ledger } = read(
      `${HEAD}Wren 98,Mill Lane,2024,1,24000,171.5
,Mill Lane,2024,1,24000,171.5
Wren 98,,2024,1,24000,171.5
Wren 98,Mill Lane,2024,2,24000,NaN
Wren 98,Mill Lane,2024,6,24000,
Wren 98,Mill Lane,2024,2,24000,-3
Wren 98,Mill Lane,2024,2,24000,4000
Wren 98,Mill Lane,2024,2,-24000,171.5
Wren 98,Mill Lane,2024,2,0,171.5
Wren 98,Mill Lane,2024,1,24000,171.5
Mean,Mill Lane,2024,,28000,180
LSD (0.05),Mill Lane,2024,,,9.1
Wren 98,Mill Lane,2024,3,,180
short row
Wren 98,Mill Lane,2024,4,30000,176
Wren 98,Mill Lane,2025,4,30000,176
Wren 98,Mill Lane,2026,4,30000,176
`,
    );
    expect(ledger).toEqual({
      read: 17,
      used: 5,
      repaired: 0,
      setAside: {
        'ragged-row': 1,
        'summary-row': 2,
        'no-product': 1,
        'no-site': 1,
        'no-yield': 2,
        'yield-not-possible': 2,
        'stand-not-possible': 2,
        'duplicate-row': 1,
      },
    });
    expect(table.yield_buPerAc.length).toBe(5);
    const found = (code: string) => issues.find((own) => own.code === code)?.found;
    expect(found('trial-no-product')).toBe('no product: line 3');
    expect(found('trial-no-yield')).toBe('no yield: lines 5, 6');
    expect(found('trial-yield-not-possible')).toContain('lines 7, 8');
    expect(found('trial-stand-not-possible')).toContain('lines 9, 10');
    expect(found('trial-duplicate-row')).toContain('line 11');
    expect(found('trial-no-stand')).toBe('plots without a stand: line 14');
    expect(table.stand_plantsPerAc[1]).toBeNaN();
  });

  it('tells of a table of which nothing is left', () => {
    const all = read(`${HEAD}Wren 98,Mill Lane,2024,1,24000,-1\nTeal 104,Mill Lane,2024,1,24000,-1\n`, {
      units: { yield: 'bu/ac' },
    });
    expect(codes(all)).toContain('trial-no-plots');
    expect(all.ledger.setAside).toEqual({ 'yield-not-possible': 2 });
  });

  it('takes names that differ in case and blanks as one, and says so', () => {
    const { table, issues } = read(
      `${HEAD}Wren 98,Mill Lane,2024,1,24000,171\nWREN  98,mill lane,2024,2,28000,172\nwren98,Mill Lane,2024,3,32000,173\n`,
    );
    expect(table.products).toEqual([{ name: 'Wren 98', crop: 'corn' }]);
    expect(table.sites.length).toBe(1);
    expect(issues.find(({ code }) => code === 'trial-product-spelling')?.found).toBe(
      'Wren 98 (also WREN 98, wren98)',
    );
  });

  it('keeps names as they are written, numbers among them', () => {
    const { table } = read('entry,site,yield (bu/ac)\n2.10,1,180\n2.1,1,182\n0042,1,185\n');
    expect(table.products.map(({ name }) => name)).toEqual(['2.10', '2.1', '0042']);
  });

  it('takes a row of units for one, also among texts, and counts its line', () => {
    const { table, issues, ledger } = read(
      'product,crop,site,stand,yield\n,,,1000/ac,t/ha\nWren,corn,A,24,9.5\nTeal,corn,A,32,\n',
    );
    expect([...table.stand_plantsPerAc]).toEqual([24000]);
    expect(table.yield_buPerAc[0]).toBeCloseTo(9.5 * 15.93177, 3);
    expect(ledger.read).toBe(2);
    expect(issues.find(({ code }) => code === 'trial-no-yield')?.found).toBe('no yield: line 4');
    expect(issues.map(({ code }) => code)).toContain('csv-units-row');
  });

  it('reads figures as people write them, and tells of columns it does not read', () => {
    const { table, issues } = read(
      'Hybride;Lieu;Densité (pieds/ha);Rendement (q/ha);Levée;Couleur;Essai\nA;X;80 000;101,3;bonne;rouge;7\nB;X;90 000;98,7;;bleu;7\n',
    );
    expect(table.stand_plantsPerAc[0]).toBeCloseTo(80_000 / 2.4710538, 1);
    const told = issues.map(({ code, found }) => [code, found]);
    expect(told).toContainEqual(['trial-not-numbers', 'words in Levée']);
    expect(told).toContainEqual(['trial-columns-unused', 'columns Couleur']);
    expect(told).toContainEqual([
      'trial-written-figures',
      'figures not written as plain numbers in Densité (pieds/ha)',
    ]);
    expect([
      ...read('product,site,stand per acre,yield bu/ac\nA,X,24k,180\nB,X,32k,181\n').table.stand_plantsPerAc,
    ]).toEqual([24000, 32000]);
  });

  it('puts brand and name together, unless the name has it', () => {
    const { table } = read(
      'Brand,Hybrid,Location,Yield bu/ac\nHeron Seed,H12,Fen End,180\nHeron Seed,Heron Seed H14,Fen End,181\nOwlet,H12,Fen End,179\n',
    );
    expect(table.products.map(({ name }) => name)).toEqual(['Heron Seed H12', 'Heron Seed H14', 'Owlet H12']);
    expect(
      read('Brand,Location,Yield bu/ac\nHeron,Fen End,180\nOwlet,Fen End,181\n').table.products.length,
    ).toBe(2);
  });

  it('makes a site of place and year, one of a table without either', () => {
    const years = read('product,location,year,yield bu/ac\nWren,A,23,180\nWren,A,24,181\nWren,B,24,182\n');
    expect(years.table.sites.map(({ name, year }) => `${name} ${year}`)).toEqual([
      'A 2023',
      'A 2024',
      'B 2024',
    ]);
    expect(codes(years)).toContain('trial-short-year');
    const none = read('product,rep,yield bu/ac\nWren,R1,180\nWren,R2,181\nTeal,R2,182\n');
    expect(none.table.sites).toEqual([{ name: '', year: null, environment_buPerAc: NaN }]);
    expect(none.ledger.used).toBe(3);
    const seasons = read(
      'product,location,year,yield bu/ac\nWren,A,2024 spring,180\nWren,A,2024 fall,181\nTeal,A,2024 fall,9\n',
    );
    expect(seasons.table.sites.map(({ name, year }) => `${name} ${year}`)).toEqual([
      'A spring 2024',
      'A fall 2024',
    ]);
  });

  it('takes environments by number as told and environments by name as sites', () => {
    const told = read(
      'product,site,yield environment (t/ha),yield (t/ha)\nWren,A,10.04,9.5\nTeal,A,10.04,10.5\nWren,B,12.55,12\n',
    );
    // 1 t/ha of corn is 15.93177 bu/ac: 100 g/m² × 4046.8564 m² / 25,401.17 g.
    expect(told.table.sites[0].environment_buPerAc).toBeCloseTo(10.04 * 15.93177, 2);
    expect(told.table.sites[1].environment_buPerAc).toBeCloseTo(12.55 * 15.93177, 2);
    const named = read('gen,env,yield bu/ac\nWren,E1,180\nWren,E2,190\n');
    expect(named.table.sites.map(({ name }) => name)).toEqual(['E1', 'E2']);
    const uneven = read('product,site,environment,yield bu/ac\nWren,A,180,175\nTeal,A,190,182\n');
    expect(codes(uneven)).toContain('trial-uneven-environment');
    expect(uneven.table.sites[0].environment_buPerAc).toBe(185);
  });

  it('tells block from block within a site, by block and repetition', () => {
    const { table } = read(
      'product,site,block,rep,yield bu/ac\nWren,A,1,1,180\nWren,A,1,2,181\nWren,A,2,1,182\nWren,B,7,1,183\nTeal,A,1,1,184\n',
    );
    expect([...table.block]).toEqual([0, 1, 2, 0, 0]);
  });

  it('reads a table of several crops each by its own bushel', () => {
    const { table } = read(
      'product,crop,site,yield (kg/ha)\nWren,Körnermais,A,10000\nPlover,Soybeans,A,4000\nWren,soja,A,3500\n',
    );
    expect(table.products).toEqual([
      { name: 'Wren', crop: 'corn' },
      { name: 'Plover', crop: 'soybean' },
      { name: 'Wren', crop: 'soybean' },
    ]);
    expect(table.yield_buPerAc[0]).toBeCloseTo(159.3177, 2);
    // 60 lb a bushel: 4000 × 4046.8564/10,000 / 27.2155.
    expect(table.yield_buPerAc[1]).toBeCloseTo(59.4785, 3);
  });

  it('asks for the crop where nothing tells it', () => {
    expect(refusalOf(() => read(`${HEAD}Wren 98,A,2024,1,24000,171\n`, {}, 'table.csv'))).toBe(
      'trial-no-crop',
    );
    expect(
      read(`${HEAD}Wren 98,A,2024,1,24000,171\n`, { crop: 'corn' }, 'table.csv').table.products[0].crop,
    ).toBe('corn');
    expect(read(`${HEAD}Wren 98,A,2024,1,24000,171\n`, { crop: 'quinoa' }).table.products[0].crop).toBe(
      'quinoa',
    );
  });

  it('names all plots of a table without products after the file, or as stated', () => {
    const one = read('site,stand plants/ac,yield bu/ac\nA,24000,170\nA,32000,180\n');
    expect(one.table.products).toEqual([{ name: 'corn trials', crop: 'corn' }]);
    expect(codes(one)).toContain('trial-one-product');
    const stated = read('site,stand plants/ac,yield bu/ac\nA,24000,170\nA,32000,180\n', { product: 'Wren' });
    expect(stated.table.products[0].name).toBe('Wren');
    expect(codes(stated)).not.toContain('trial-one-product');
  });

  it('reads an array of rows as it reads a table', () => {
    const rows = [
      { hybrid: 'Wren 98', site: 'A', 'stand plants/ac': 24000, 'yield bu/ac': 171.5 },
      { hybrid: 'Wren 98', site: 'A', 'stand plants/ac': null, 'yield bu/ac': 175 },
      { hybrid: 'Teal "B"', site: 'A\nB', 'yield bu/ac': '180.25', 'stand plants/ac': 30000 },
      { hybrid: 'Teal', site: 'A', 'yield bu/ac': null },
    ];
    const { table, ledger, issues } = read(JSON.stringify(rows), {}, 'corn.json');
    expect([...table.yield_buPerAc]).toEqual([171.5, 175, 180.25]);
    expect([...table.stand_plantsPerAc]).toEqual([24000, NaN, 30000]);
    expect(table.products.map(({ name }) => name)).toEqual(['Wren 98', 'Teal "B"']);
    expect(table.sites.map(({ name }) => name)).toEqual(['A', 'A B']);
    expect(ledger.setAside).toEqual({ 'no-yield': 1 });
    expect(issues.find(({ code }) => code === 'trial-no-yield')?.found).toBe('no yield: row 4');
    expect(refusalOf(() => read('{"a": 1}', {}, 'a.json'))).toBe('trial-json');
    expect(refusalOf(() => read('[1, 2]', {}, 'a.json'))).toBe('trial-json');
    expect(refusalOf(() => read('[{"yield": 1', {}, 'a.json'))).toBe('json-truncated');
  });
});

describe('stands told by seeds', () => {
  const SEEDS = 'product,site,seeding rate (seeds/ac),yield (bu/ac)\nWren,A,30000,180\nTeal,A,34000,185\n';

  it('are seeds times the emergence of the row, of the option, or the usual one with a warning', () => {
    const assumed = read(SEEDS);
    expect([...assumed.table.stand_plantsPerAc]).toEqual([28500, 32300]);
    expect(codes(assumed)).toContain('trial-emergence-assumed');
    const stated = read(SEEDS, { emergence: 0.9 });
    expect([...stated.table.stand_plantsPerAc]).toEqual([27000, 30600]);
    expect(codes(stated)).not.toContain('trial-emergence-assumed');
    const soy = read(SEEDS.replaceAll(/3(\d)000/g, '1$10000').replaceAll(',18', ',5'), { crop: 'soybean' });
    expect([...soy.table.stand_plantsPerAc]).toEqual([80000, 112000]);
    const rows = read(
      'product,site,seeding rate (seeds/ac),emergence %,yield (bu/ac)\nWren,A,30000,90,180\nTeal,A,34000,75,185\nTeal,A,34000,130,185\n',
    );
    expect([...rows.table.stand_plantsPerAc]).toEqual([27000, 25500]);
    expect(rows.ledger.setAside).toEqual({ 'stand-not-possible': 1 });
    const shares = read(
      'product,site,seeding rate (seeds/ac),stand pct,yield (bu/ac)\nWren,A,30000,0.9,180\nTeal,A,34000,0.75,185\n',
    );
    expect([...shares.table.stand_plantsPerAc]).toEqual([27000, 25500]);
  });

  it('are not assumed for a crop without a usual emergence', () => {
    const wheat = read('product,site,seeding rate (seeds/m2),yield (bu/ac)\nWren,A,300,80\nTeal,A,350,85\n', {
      crop: 'wheat',
    });
    expect(wheat.table.stand_plantsPerAc.every(Number.isNaN)).toBe(true);
    expect(codes(wheat)).toContain('trial-emergence-unknown');
  });

  it('give way to stands', () => {
    const both = read(
      'product,site,seeding rate,final stand,yield (bu/ac)\nWren,A,30000,27100,180\nTeal,A,34000,,185\n',
    );
    expect([...both.table.stand_plantsPerAc]).toEqual([27100, NaN]);
    expect(both.readings.map(({ role }) => role)).not.toContain('rate');
  });

  it('refuse an emergence that is no share', () => {
    expect(refusalOf(() => read(SEEDS, { emergence: 95 }))).toBe('trial-option');
  });
});

describe('yields and moisture', () => {
  const WET = 'product,site,wet yield (bu/ac),moisture\nWren,A,200,20\nTeal,A,200,15.5\nTeal,A,210,\n';

  it('are brought to the base where the file says they are wet', () => {
    const { table, issues, ledger } = read(WET);
    // (100 − 20)/(100 − 15.5): University of Wisconsin Extension, Harvest Math 101.
    expect(table.yield_buPerAc[0]).toBeCloseTo(200 * (80 / 84.5), 9);
    expect(table.yield_buPerAc[1]).toBe(200);
    expect(issues.map(({ code }) => code)).toContain('trial-to-base');
    expect(ledger.setAside).toEqual({ 'no-moisture': 1 });
  });

  it('stay as they are where it does not', () => {
    for (const name of ['yield (bu/ac)', 'dry yield (bu/ac)', 'yield at 15.5% moisture (bu/ac)']) {
      const { table } = read(WET.replace('wet yield (bu/ac)', name));
      expect([...table.yield_buPerAc], name).toEqual([200, 200, 210]);
    }
    const unsaid = read(WET.replace('wet yield', 'yield'));
    expect(unsaid.questions.map(({ about, options, proposed }) => [about, options[proposed].value])).toEqual([
      ['moisture basis', 'dry'],
    ]);
    expect(read(WET.replace('wet yield', 'yield'), { basis: 'dry' }).questions).toEqual([]);
    const level = read('product,site,yield bu/ac,moisture\nWren,A,200,15.5\nTeal,A,200,16\n');
    expect([level.questions, codes(level).includes('trial-basis')]).toEqual([[], true]);
    const bare = read('product,site,wet yield (bu/ac)\nWren,A,200\nTeal,A,201\n');
    expect([...bare.table.yield_buPerAc]).toEqual([200, 201]);
    expect(codes(bare)).toContain('trial-wet');
  });

  it('go by a column of bases, by row', () => {
    const { table } = read(
      'product,site,yield (bu/ac),moisture,basis\nWren,A,200,20,wet\nTeal,A,200,20,dry\nOwl,A,200,20,\n',
    );
    expect([...table.yield_buPerAc]).toEqual([200 * (80 / 84.5), 200, 200]);
  });

  it('at a share of dry matter are dry already', () => {
    const { table } = read('Sorte,Ort,Ertrag (dt/ha bei 86 % TS)\nWren,A,100\nTeal,A,90\n');
    expect(table.yield_buPerAc[0]).toBeCloseTo(159.3177, 3);
  });

  it('of dry matter gain the water of the base', () => {
    const { table } = read('Sorte,Ort,Ertrag (dt TM/ha)\nWren,A,86\nTeal,A,90\n');
    expect(table.yield_buPerAc[0]).toBeCloseTo((86 * 100 * 0.01593177) / 0.845, 1);
  });
});

describe('tables that cannot be read so', () => {
  const codeOf = (text: string, options: TrialOptions = {}) => refusalOf(() => read(text, options));

  it('are refused with what to do', () => {
    expect(codeOf('stand,Wren,Teal,Owl\n24000,170,180,185\n28000,171,181,186\n')).toBe('trial-wide');
    expect(codeOf('product,site,height\nWren,A,170\nTeal,A,171\n')).toBe('trial-no-yield');
    expect(codeOf('product,site,yield (bu/ac)\nWren,A,good\nTeal,A,bad\n')).toBe('trial-no-yield');
    expect(codeOf('product,site,yield (lb/hill)\nWren,A,1.7\nTeal,A,1.8\n')).toBe('trial-unit');
    expect(codeOf('product,site,plants per hill,yield (bu/ac)\nWren,A,2,170\nTeal,A,3,180\n')).toBe(
      'trial-unit',
    );
    expect(codeOf('product,site,yield\n,,lb/hill\nWren,A,1.7\nTeal,A,1.8\n')).toBe('trial-unit');
    const told = refusal(() => read('product,site,yield (lb/hill)\nWren,A,1.7\nTeal,A,1.8\n'));
    expect(told?.issue.found).toContain("'lb/hill' is no unit known here");
    expect(codeOf(`${HEAD}Wren 98,A,2024,1,24000,171\n`, { columns: { yield: 'ghost' } })).toBe(
      'trial-option',
    );
    expect(codeOf(`${HEAD}Wren 98,A,2024,1,24000,171\n`, { columns: { stand: 'product' } })).toBe(
      'trial-option',
    );
    expect(codeOf(`${HEAD}Wren 98,A,2024,1,24000,171\n`, { units: { yield: 'ells' } })).toBe('trial-option');
  });

  it('do without a column whose unit is not known, where that is stated', () => {
    const { table } = read('product,site,plants per hill,yield (bu/ac)\nWren,A,2,170\nTeal,A,3,180\n', {
      columns: { stand: null },
    });
    expect([...table.stand_plantsPerAc]).toEqual([NaN, NaN]);
  });

  it('set aside crops whose bushel nobody knows here', () => {
    const { ledger } = read('product,crop,site,yield (kg/ha)\nWren,corn,A,9000\nTeff,teff,A,1000\n');
    expect(ledger.setAside).toEqual({ 'no-bushel': 1 });
  });
});
