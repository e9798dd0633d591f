import { describe, expect, it } from 'vitest';
import { readTrials } from '../../src/formats/trials/read-trials.ts';
import type { TrialOptions } from '../../src/formats/trials/trial-options.ts';
import { missing, openData } from './open-data.ts';
import { refusal } from './small-files.ts';

// Tables as in the R package agridat (Wright 2024); units and crops from its help pages and the papers it cites.
const FOLDER = 'trials';
const read = (name: string, options: TrialOptions = {}) =>
  readTrials(openData(`${FOLDER}/${name}.csv`), options);
const refused = (name: string, options: TrialOptions = {}) => refusal(() => read(name, options))?.issue;
const units = ({ readings }: ReturnType<typeof read>) =>
  Object.fromEntries(readings.filter(({ unit }) => unit !== '').map(({ role, unit }) => [role, unit]));

describe.skipIf(missing(FOLDER))('open trial tables', () => {
  it('carmer.density: pounds a hill are no yield over an area; refused, also with the crop', () => {
    expect(refused('carmer.density')?.code).toBe('trial-no-crop');
    expect(refused('carmer.density', { crop: 'corn' })?.code).toBe('trial-unit');
    expect(refused('carmer.density', { crop: 'corn' })?.where).toBe('carmer.density.csv › yield');
  });

  it('gomez.seedrate: seed by weight, a crop that has no bushel here', () => {
    expect(refused('gomez.seedrate')?.code).toBe('trial-no-crop');
    expect(refused('gomez.seedrate', { crop: 'rice' })?.code).toBe('trial-unit');
    const { ledger, issues } = read('gomez.seedrate', {
      crop: 'rice',
      units: { yield: 'kg/ha' },
      columns: { rate: null },
    });
    expect(ledger).toEqual({ read: 24, used: 0, repaired: 0, setAside: { 'no-bushel': 24 } });
    expect(issues.map(({ code }) => code)).toContain('trial-no-plots');
  });

  it('mcleod.barley: plants per square metre and tonnes a hectare, by the figures', () => {
    const own = read('mcleod.barley');
    expect(units(own)).toEqual({ stand: 'plants/m2', yield: 't/ha' });
    expect(own.table.sites.length).toBe(8);
    expect(own.ledger.used).toBe(40);
    expect(own.questions).toEqual([]);
    // 86 plants/m² × 4046.8564 m²/ac; 1.95 t/ha ÷ 48 lb a bushel.
    expect(own.table.stand_plantsPerAc[0]).toBeCloseTo(348029.65, 1);
    expect(own.table.yield_buPerAc[0]).toBeCloseTo(36.245, 3);
  });

  it('parks: grams and plants by the square metre, not grams a plant', () => {
    const own = read('parks1982_soybean_density');
    expect(units(own)).toEqual({ stand: 'plants/m2', yield: 'g/m2' });
    expect(own.readings.find(({ role }) => role === 'yield')?.column).toBe('Yield_g_m2');
    expect(own.ledger.used).toBe(24);
  });

  it('ars.earlywhitecorn96: a stand in percent, and moistures well over the base, asked about', () => {
    expect(refused('ars.earlywhitecorn96')?.code).toBe('trial-no-crop');
    const own = read('ars.earlywhitecorn96', { crop: 'corn' });
    expect(own.table.products.length).toBe(60);
    expect(own.table.sites.length).toBe(9);
    expect(units(own)).toEqual({ stand: '%', yield: 'bu/ac' });
    expect(own.questions.map(({ about, options, proposed }) => [about, options[proposed].value])).toEqual([
      ['stand unit', '%'],
      ['moisture basis', 'dry'],
    ]);
    expect(own.table.stand_plantsPerAc.every(Number.isNaN)).toBe(true);
  });

  it('kang.maize: megagrams a hectare', () => {
    const own = read('kang.maize');
    expect(units(own)).toEqual({ yield: 't/ha' });
    expect([own.table.products.length, own.table.sites.length, own.ledger.used]).toEqual([17, 12, 204]);
    expect(own.questions).toEqual([]);
  });

  it('gauch.soy: kilograms a hectare or pounds an acre, asked about', () => {
    const own = read('gauch.soy');
    expect([own.table.products.length, own.table.sites.length, own.ledger.used]).toEqual([7, 55, 1454]);
    expect(own.questions.map(({ about, options, proposed }) => [about, options[proposed].value])).toEqual([
      ['yield unit', 'kg/ha'],
    ]);
    expect(read('gauch.soy', { units: { yield: 'kg/ha' } }).questions).toEqual([]);
    // 2729 kg/ha over 60 lb a bushel.
    expect(own.table.yield_buPerAc[0]).toBeCloseTo(40.579, 3);
  });

  it('others: turnips have no crop here, nitrogen is no stand', () => {
    expect(refused('mead.turnip')?.code).toBe('trial-no-crop');
    expect(read('hunter.corn').table.stand_plantsPerAc.every(Number.isNaN)).toBe(true);
  });
});
