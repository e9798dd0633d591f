import { describe, expect, it } from 'vitest';
import { zoneOption } from '../../src/engine/rates/zone-option.ts';
import { product as rated } from '../engine/lineup/small-lineup.ts';
import { missing, openData } from '../formats/open-data.ts';

const file = 'trials/mcleod.barley.csv';

/**
 * McLeod 1982, barley seed rates in New Zealand, as in the R package agridat (data set mcleod.barley), which prints income = 140 yield − 280 rate/1000
 * dollars a hectare and its peak at 100 kg/ha. Means by rate through the engine's money, a kilogram standing for a seed and a tonne for a bushel.
 */
describe.skipIf(missing(file))(`open data ${file}`, () => {
  // Read when a test asks, not while tests are collected: the file may not be here.
  const rows = () => {
    const lines = new TextDecoder().decode(openData(file).bytes).trim().split('\n').slice(1);
    return lines.map((line) => line.split(','));
  };
  const meanAt = (rate: number) => {
    const yields = rows()
      .filter((row) => Number(row[2]) === rate)
      .map((row) => Number(row[9]));
    return yields.reduce((sum, value) => sum + value, 0) / yields.length;
  };
  const incomeAt = (rate: number) =>
    zoneOption(
      rated({
        name: 'Barley',
        crop: 'barley',
        seedsPerUnit: 1000,
        pricePerUnit: 280,
        tested_plantsPerAc: { min: 50, max: 150 },
        response: {
          reference_buPerAc: 4,
          level_buPerAc: meanAt(rate),
          levelPerEnvironment: 0,
          stand_plantsPerAc: rate,
          bend: 1,
        },
      }),
      0,
      4,
      { grainPrice_perBu: 140, dryingHauling_perBu: 0, emergence: 1 },
      { step_seedsPerAc: 25, lowest_seedsPerAc: 0, highest_seedsPerAc: null },
      rate,
    )?.marginPerAc ?? Number.NaN;

  it('gives the printed incomes and their peak', () => {
    const incomes = [50, 75, 100, 125, 150].map(incomeAt);
    // Printed to the cent; the first is 541.275 exactly.
    [541.28, 574.88, 584.67, 582.4, 583.98].forEach((printed, k) => {
      expect(Math.abs(incomes[k] - printed)).toBeLessThanOrEqual(0.005 + 1e-9);
    });
    expect(incomes.indexOf(Math.max(...incomes))).toBe(2);
  });
});
