import { describe, expect, it } from 'vitest';
import { readTrials } from '../../src/formats/trials/read-trials.ts';
import { STAND_UNITS } from '../../src/formats/trials/stand-unit.ts';
import type { TrialOptions } from '../../src/formats/trials/trial-options.ts';
import type { TrialRole } from '../../src/formats/trials/trial-role.ts';
import { roleNamed } from '../../src/formats/trials/trial-words.ts';
import { KNOWN_YIELD_UNITS } from '../../src/formats/trials/unit-told.ts';
import { refusalOf, textFile } from './small-files.ts';

const read = (text: string, options: TrialOptions = {}, name = 'corn trials.csv') =>
  readTrials(textFile(text, name), options);
const codes = ({ issues }: ReturnType<typeof read>) => issues.map(({ code }) => code);

/** The words of one language for the columns of one table, in the order of ROLES. Written by us. */
const ROLES: readonly TrialRole[] = [
  'product',
  'crop',
  'site',
  'year',
  'rep',
  'block',
  'stand',
  'yield',
  'moisture',
];
const LANGUAGES: Readonly<Record<string, readonly string[]>> = {
  English: [
    'Hybrid',
    'Crop',
    'Location',
    'Year',
    'Rep',
    'Block',
    'Final Stand (plants/ha)',
    'Yield (t/ha)',
    'Grain moisture %',
  ],
  German: [
    'Sorte',
    'Fruchtart',
    'Standort',
    'Versuchsjahr',
    'Wiederholung',
    'Block',
    'Bestandesdichte (Pflanzen/ha)',
    'Kornertrag (t/ha)',
    'Kornfeuchte (%)',
  ],
  French: [
    'Variété',
    'Culture',
    'Lieu',
    'Année',
    'Répétition',
    'Bloc',
    'Peuplement (plantes/ha)',
    'Rendement (t/ha)',
    'Humidité (%)',
  ],
  Spanish: [
    'Híbrido',
    'Cultivo',
    'Localidad',
    'Año',
    'Repetición',
    'Bloque',
    'Población (plantas/ha)',
    'Rendimiento (t/ha)',
    'Humedad (%)',
  ],
  Dutch: [
    'Ras',
    'Gewas',
    'Locatie',
    'Jaar',
    'Herhaling',
    'Blok',
    'Plantgetal (planten/ha)',
    'Opbrengst (ton/ha)',
    'Vochtgehalte (%)',
  ],
  Danish: [
    'Sort',
    'Afgrøde',
    'Lokalitet',
    'År',
    'Gentagelse',
    'Blok',
    'Plantetal (planter/ha)',
    'Udbytte (t/ha)',
    'Vandindhold (%)',
  ],
};
const CROP: Readonly<Record<string, string>> = {
  English: 'Corn',
  German: 'Mais',
  French: 'Maïs',
  Spanish: 'Maíz',
  Dutch: 'Maïs',
  Danish: 'Majs',
};

describe('headers', () => {
  it.each(Object.keys(LANGUAGES))('are read in %s, decimal commas and all', (language) => {
    const head = LANGUAGES[language].join(';');
    const crop = language === 'Danish' ? 'corn' : CROP[language];
    const rows = ['Zaunkönig;80000;9,5;16,1', 'Wren 98;62000;8,75;15,2'].map((row, k) => {
      const [name, stand, grain, moisture] = row.split(';');
      return `${name};${crop};Fen End;2024;${k + 1};1;${stand};${grain};${moisture}`;
    });
    const { table, readings, questions, ledger } = read(`${head}\n${rows.join('\n')}\n`, {}, 'a.csv');
    expect(readings.map(({ role }) => role).toSorted()).toEqual([...ROLES].toSorted());
    for (const [k, role] of ROLES.entries())
      expect(readings.find((own) => own.role === role)?.column).toBe(LANGUAGES[language][k]);
    expect(questions).toEqual([]);
    expect(ledger.used).toBe(2);
    expect(table.products[0].crop).toBe('corn');
    expect(table.sites).toEqual([{ name: 'Fen End', year: 2024, environment_buPerAc: NaN }]);
    // 80,000 / 2.4710538 ac/ha; 15.93177 bu/ac of corn a tonne a hectare.
    expect(table.stand_plantsPerAc[0]).toBeCloseTo(32374.85, 1);
    expect(table.yield_buPerAc[1]).toBeCloseTo(8.75 * 15.93177, 3);
  });

  it('are what the trade calls them', () => {
    const named: readonly (readonly [string, TrialRole | null])[] = [
      ['gen', 'product'],
      ['Entry', 'product'],
      ['variety_name', 'product'],
      ['Name', 'product'],
      ['Sortennavn', null],
      ['sortnavn', 'product'],
      ['Prüfglied', 'product'],
      ['Brand', 'brand'],
      ['Company', 'brand'],
      ['Züchter', 'brand'],
      ['loc', 'site'],
      ['Versuchsort', 'site'],
      ['trial', 'trial'],
      ['Essai', 'trial'],
      ['Forsøg', 'trial'],
      ['env', 'environment'],
      ['yield_environment', 'environment'],
      ['Site mean (bu/ac)', 'environment'],
      ['Harvest population', 'stand'],
      ['final_stand', 'stand'],
      ['pop', 'stand'],
      ['plants/m2', 'stand'],
      ['Pflanzen/m²', 'stand'],
      ['Pieds/m²', 'stand'],
      ['Densité', 'stand'],
      ['density', 'stand'],
      ['Seeding rate', 'rate'],
      ['seed_rate_ks_ac', 'rate'],
      ['Planting population', 'rate'],
      ['Target population', 'rate'],
      ['Saatstärke (Körner/m²)', 'rate'],
      ['Densité de semis', 'rate'],
      ['Densidad de siembra', 'rate'],
      ['Zaaidichtheid', 'rate'],
      ['Udsædsmængde', 'rate'],
      ['N rate', null],
      ['fungicide rate', null],
      ['Emergence %', 'emergence'],
      ['stand_pct', 'emergence'],
      ['Feldaufgang', 'emergence'],
      ['Levée (%)', 'emergence'],
      ['Opkomst', 'emergence'],
      ['Fremspiring', 'emergence'],
      ['emergence date', null],
      ['Yield (bu/A @ 15.5%)', 'yield'],
      ['Rendement à 15 % humidité', 'yield'],
      ['YLD_BUAC', 'yield'],
      ['Ertrag dt/ha', 'yield'],
      ['yield rank', null],
      ['yield % of check', null],
      ['Relativertrag', null],
      ['H2O', 'moisture'],
      ['Wassergehalt', 'moisture'],
      ['Teneur en eau', 'moisture'],
      ['soil moisture', null],
      ['test weight', null],
      ['plant height', null],
      ['Pflanzenhöhe', null],
      ['planting date', null],
      ['lodging', null],
      ['Wdh.', 'rep'],
      ['REP', 'rep'],
      ['Gentagelse', 'rep'],
      ['harvest year', 'year'],
      ['Erntejahr', 'year'],
      ['Campagne', 'year'],
    ];
    expect(named.map(([name]) => [name, roleNamed(name)?.role ?? null])).toEqual(
      named.map((own) => [...own]),
    );
  });

  it('that two columns share are asked about, the first being taken', () => {
    const { questions, readings, issues } = read(
      'hybrid,variety,site,yield bu/ac\nWren,W,A,180\nTeal,T,A,181\n',
    );
    expect(questions).toEqual([
      {
        about: 'product column',
        column: 'hybrid',
        options: [
          { value: 'hybrid', because: 'named hybrid' },
          { value: 'variety', because: 'named variety' },
        ],
        proposed: 0,
      },
    ]);
    expect(readings.find(({ role }) => role === 'product')?.confidence).toBe(0.5);
    expect(issues.map(({ code }) => code)).toContain('trial-assumed');
    const settled = read('hybrid,variety,site,yield bu/ac\nWren,W,A,180\nTeal,T,A,181\n', {
      columns: { product: 'variety' },
    });
    expect(settled.questions).toEqual([]);
    expect(settled.table.products[0].name).toBe('W');
  });

  it('of a dry and a wet yield, and of one yield in two units, raise no question', () => {
    const both = read(
      'product,site,wet yield bu/ac,dry yield bu/ac\nWren,A,200,180\nTeal,A,202,190\nOwl,A,207,178\n',
    );
    expect(both.questions).toEqual([]);
    expect([...both.table.yield_buPerAc]).toEqual([180, 190, 178]);
    const twice = read(
      'product,site,yield t/ha,yield bu/ac\nWren,A,10,159.318\nTeal,A,11,175.249\nOwl,A,9,143.386\n',
    );
    expect(twice.questions).toEqual([]);
    const two = read(
      'product,site,yield a bu/ac,yield b bu/ac\nWren,A,200,180\nTeal,A,202,190\nOwl,A,207,178\n',
    );
    expect(two.questions.map(({ about }) => about)).toEqual(['yield column']);
  });
});

/** 10 t/ha of corn, and 80,000 plants/ha, in every unit. By hand: 1 ha = 2.47105381 ac, 1 lb = 0.45359237 kg, a bushel 56 lb. */
const TEN_TONNES: Readonly<Record<string, readonly [value: number, names: readonly string[]]>> = {
  'bu/ac': [159.3177, ['Yield (bu/ac)', 'yield_bu_ac', 'Yield bu/A', 'BPA yield', 'yield bushels per acre']],
  'kg/ha': [10000, ['Yield (kg/ha)', 'Rendimiento kg ha-1', 'yield_kg_ha', 'Ertrag [kg ha⁻¹]']],
  't/ha': [
    10,
    ['Yield (t/ha)', 'yield Mg ha-1', 'Opbrengst ton/ha', 'Rendement (t/ha)', 'Rendimiento (toneladas/ha)'],
  ],
  'lb/ac': [8921.79, ['Yield (lb/ac)', 'yield_lbs_per_acre']],
  'q/ha': [100, ['Rendement (q/ha)', 'Ertrag (dt/ha)', 'Rdt qx/ha', 'Udbytte (hkg/ha)']],
  'g/m2': [1000, ['Yield (g/m2)', 'yield g m-2', 'Yield_g_m2']],
  'ton/ac': [4.460895, ['Yield (short tons/ac)', 'yield ton/ac']],
};
const EIGHTY_THOUSAND: Readonly<Record<string, readonly [value: number, names: readonly string[]]>> = {
  'plants/ac': [
    32374.85,
    ['stand (plants/ac)', 'population_plants_ac', 'Plants/A', 'pop per acre', 'PLANTS PER ACRE'],
  ],
  'plants/ha': [80000, ['stand (plants/ha)', 'Pflanzen/ha', 'plantas por hectárea', 'Plants ha-1']],
  '1000/ac': [
    32.37485,
    [
      'stand (1000/ac)',
      'pop (k/ac)',
      'population (1000 plants/ac)',
      'plants in 1/1000 acre',
      'stand thousands per acre',
      'kplants_ac',
    ],
  ],
  '1000/ha': [
    80,
    ['stand (1000/ha)', 'Pflanzen (Tsd./ha)', 'plantes (milliers/ha)', 'x1000 plants/ha stand'],
  ],
  'plants/m2': [
    8,
    ['stand (plants/m2)', 'Pflanzen/m²', 'plants m-2', 'pieds/m²', 'Planten per m2', 'plants per sq m'],
  ],
  'plants/ft2': [0.7432243, ['stand (plants/ft2)', 'plants per square foot']],
};

describe('units', () => {
  it('of yields are all tried here', () => {
    expect(Object.keys(TEN_TONNES).toSorted()).toEqual([...KNOWN_YIELD_UNITS].toSorted());
    expect(Object.keys(EIGHTY_THOUSAND).toSorted()).toEqual([...STAND_UNITS].toSorted());
  });

  it.each(Object.keys(TEN_TONNES))('of yields: %s, in a name, in a row under it, and stated', (unit) => {
    const [value, names] = TEN_TONNES[unit];
    const table = (name: string, row = '') =>
      `product,site,rep,year,${name}\n${row}Wren,A,1,2024,${value}\nTeal,A,1,2024,${value}\n`;
    for (const name of names) {
      const { table: own, readings, questions } = read(table(name));
      expect([name, readings.find(({ role }) => role === 'yield')?.unit]).toEqual([name, unit]);
      expect(questions).toEqual([]);
      expect(own.yield_buPerAc[0]).toBeCloseTo(159.3177, 2);
    }
    expect(read(table('yield', `,,,,${unit}\n`)).table.yield_buPerAc[0]).toBeCloseTo(159.3177, 2);
    expect(read(table('yield'), { units: { yield: unit } }).table.yield_buPerAc[0]).toBeCloseTo(159.3177, 2);
  });

  it.each(Object.keys(EIGHTY_THOUSAND))('of stands: %s, in a name, in a row under it, and stated', (unit) => {
    const [value, names] = EIGHTY_THOUSAND[unit];
    const table = (name: string, row = '') =>
      `product,site,rep,${name},yield (bu/ac)\n${row}Wren,A,1,${value},180\nTeal,A,1,${value},190\n`;
    for (const name of names) {
      const { table: own, readings, questions } = read(table(name));
      expect([name, readings.find(({ role }) => role === 'stand')?.unit]).toEqual([name, unit]);
      expect(questions).toEqual([]);
      expect(own.stand_plantsPerAc[0]).toBeCloseTo(32374.85, 1);
    }
    expect(read(table('stand', `,,,${unit},bu/ac\n`)).table.stand_plantsPerAc[0]).toBeCloseTo(32374.85, 1);
    expect(read(table('stand'), { units: { stand: unit } }).table.stand_plantsPerAc[0]).toBeCloseTo(
      32374.85,
      1,
    );
  });

  it('follow from the figures where one alone is plausible', () => {
    const { readings, questions } = read('product,site,stand,yield\nWren,A,24000,180\nTeal,A,30000,190\n');
    expect(questions).toEqual([]);
    expect(
      readings.filter(({ unit }) => unit !== '').map(({ unit, confidence }) => [unit, confidence]),
    ).toEqual([
      ['plants/ac', 0.9],
      ['bu/ac', 0.9],
    ]);
    const metric = read('product,site,stand,yield\nWren,A,65000,9.8\nTeal,A,80000,10.9\n').readings;
    expect(metric.filter(({ unit }) => unit !== '').map(({ unit }) => unit)).toEqual(['plants/ha', 't/ha']);
  });

  it('that might be two are asked about, one of them being taken', () => {
    const text = 'product,site,stand,yield\nWren,A,120,3000\nTeal,A,140,3100\n';
    const { questions, issues, table } = read(text, { crop: 'soybean' });
    expect(
      questions.map(({ about, options, proposed }) => [about, options[proposed].value, options.length]),
    ).toEqual([
      ['yield unit', 'kg/ha', 2],
      ['stand unit', '1000/ac', 2],
    ]);
    expect(issues.filter(({ code }) => code === 'trial-assumed').length).toBe(2);
    expect(table.stand_plantsPerAc[0]).toBe(120_000);
    const settled = read(text, { crop: 'soybean', units: { yield: 'kg/ha', stand: '1000/ha' } });
    expect(settled.questions).toEqual([]);
    expect(settled.table.stand_plantsPerAc[0]).toBeCloseTo(48562.28, 1);
  });

  it('that a name tells give way to the figures where no crop gives such', () => {
    const { questions, table } = read(
      'product,site,stand plants/ac,yield bu/ac\nWren,A,24,180\nTeal,A,32,190\n',
    );
    expect(questions.map(({ about, proposed, options }) => [about, options[proposed].value])).toEqual([
      ['stand unit', '1000/ac'],
    ]);
    expect([...table.stand_plantsPerAc]).toEqual([24000, 32000]);
  });

  it('of a stand in percent make it an emergence', () => {
    const { table, questions } = read(
      'product,site,seeding rate per acre,stand,yield bu/ac\nWren,A,30000,95,180\nTeal,A,34000,90,190\n',
    );
    expect(questions.map(({ about }) => about)).toEqual(['stand unit']);
    expect([...table.stand_plantsPerAc]).toEqual([28500, 30600]);
  });

  it('of crops nobody knows here must be told', () => {
    expect(refusalOf(() => read('product,site,yield\nWren,A,3\n', { crop: 'quinoa' }))).toBe('trial-unit');
    expect(refusalOf(() => read('product,site,stand,yield bu/ac\nWren,A,3,40\n', { crop: 'quinoa' }))).toBe(
      'trial-unit',
    );
  });

  it('may stand beside commas that part thousands, which are asked about', () => {
    const text = 'product,site,stand (plants/ac),yield (bu/ac)\nWren,A,"24,000",180\nTeal,A,"32,000",190\n';
    const { table, questions } = read(text);
    expect([...table.stand_plantsPerAc]).toEqual([24000, 32000]);
    expect(questions.map(({ about, options, proposed }) => [about, options[proposed].value])).toEqual([
      ['stand commas', 'thousands'],
    ]);
    const settled = read(text, { commas: { 'stand (plants/ac)': 'thousands' } });
    expect(settled.questions).toEqual([]);
    expect(codes(settled)).not.toContain('trial-assumed');
  });
});
