import { describe, expect, it } from 'vitest';
import { chance, nineInTen, overUsualWords, verdictWords } from '../../src/app/stops/rates/gain-words.ts';
import { littleTried, restsOn } from '../../src/app/stops/rates/rests-on-words.ts';
import type { Issue } from '../../src/engine/issue.ts';
import type { Chances } from '../../src/engine/rates/chances.ts';
import type { Plan } from '../../src/plan/schema.ts';

const gain: Chances = { mean: 6.4, low: -1.9, high: 14.7, ahead: 0.87 };

describe('what is said of a gain', () => {
  it('never calls it certain or hopeless', () => {
    expect(chance(1)).toBe('over 99 %');
    expect(chance(0.996)).toBe('over 99 %');
    expect(chance(0.9949)).toBe('99 %');
    expect(chance(0)).toBe('under 1 %');
    expect(nineInTen(gain, 'USD')).toBe('nine times in ten between −$1.90 and $14.70');
    expect(nineInTen(gain, 'CAD')).toBe('nine times in ten between −1.90 CAD and 14.70 CAD');
  });

  it('says that the map pays, that flat is as good, or that the plan loses, and why', () => {
    expect(verdictWords(6.4, gain, 'USD')).toEqual({
      verdict: 'map',
      headline: 'Planting by map pays.',
      because: 'An estimated $6.40/ac over the best flat plan, 87 % likely to pay.',
    });
    expect(verdictWords(6.4, { ...gain, ahead: 0.61 }, 'USD')).toEqual({
      verdict: 'flat',
      headline: 'A flat plan is as good.',
      because: 'An estimated $6.40/ac over it, 61 % likely to pay: too little to go by.',
    });
    expect(verdictWords(0.01, { ...gain, ahead: 0.61 }, 'USD').because).toBe(
      'It earns within cents of the map.',
    );
    const loses = verdictWords(-3, { ...gain, ahead: 0.1 }, 'USD');
    expect(loses.headline).toBe('The plan earns less than a flat one.');
    expect(loses.because).toMatch(/^An estimated \$3\.00\/ac less than the best flat plan: /);
  });

  it('says of the chance what planting by map must bring first', () => {
    expect(verdictWords(6.4, gain, 'USD', 2).because).toBe(
      'An estimated $6.40/ac over the best flat plan, 87 % likely to pay its cost of $2.00/ac.',
    );
    expect(verdictWords(6.4, gain, 'USD', 6).headline).toBe('A flat plan is as good.');
  });

  it('gives no chance where nothing is taken as not sure', () => {
    const sure = { mean: 6.4, low: 6.4, high: 6.4, ahead: 1 };
    expect(verdictWords(6.4, sure, 'USD').because).toBe('An estimated $6.40/ac over the best flat plan.');
    expect(verdictWords(6.4, null, 'USD').because).toBe('An estimated $6.40/ac over the best flat plan.');
  });

  it('says what is lost against the usual planting as plainly as what is won', () => {
    const usual = { product: 0, seedsPerAc: 34500, perAc: -2.5, perField: -375.4, chances: gain };
    expect(overUsualWords(usual, 'Plover 108', 'USD')).toBe(
      'An estimated $2.50/ac less than the usual Plover 108 at 34,500 seeds/ac, −$375 on the field; nine times in ten between −$1.90 and $14.70, 87 % likely to pay.',
    );
  });
});

describe('what the worth rests on', () => {
  const lineup = [{ name: 'Plover 108' }, { name: 'Bittern 112' }];
  const plan = { worth: { priceSpread: 0.12 } } as Plan;
  const ground = { levelSd_buPerAc: 11.3, zoneSd_buPerAc: [4.1, 5.2] };
  const sure = { draws: 2000, knowingPerAc: 0, usual: null, gain, leads: [], takenAsSure: [] };

  it('says how often and by how much was drawn, whether measured or assumed, and what was not', () => {
    const told = restsOn({ ...sure, ground: { ...ground, from: 'years' } } as never, plan, lineup);
    expect(told).toMatch(
      /^Drawn 2,000 times: .* by 5\.2 bu\/ac at most as its years tell, .* 11\.3 bu\/ac .* 12 %/,
    );
    const assumed = restsOn(
      { ...sure, takenAsSure: [1], ground: { ...ground, from: 'assumed' } } as never,
      plan,
      lineup,
    );
    expect(assumed).toContain('at most as assumed');
    expect(assumed).toContain('How sure Bittern 112 is the lineup does not say');
  });

  it('names products little tried in one line, and says nothing of others', () => {
    const issue = (code: string, where: string) => ({ code, where }) as Issue;
    expect(littleTried([issue('delay-estimated', 'a map')])).toBeNull();
    expect(littleTried([issue('planted-on-one-site', 'Plover 108')])).toBe(
      'Plover 108 was tried at one site alone.',
    );
    expect(
      littleTried([
        issue('planted-on-one-site', 'Plover 108'),
        issue('planted-on-one-site', 'Sora 105'),
        issue('products-never-met', 'Sora 105'),
      ]),
    ).toBe(
      'Plover 108 and Sora 105 were tried at one site alone; no trial holds Sora 105 against some of the products open here.',
    );
  });
});
