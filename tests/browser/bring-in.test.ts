import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { type House, openHouse } from './built-app.ts';
import { settled, shownText, type Watched, watchedPage } from './chromium.ts';

let house: House;
let watched: Watched;
let page: Page;
const sheet = () => shownText(page.locator('main'));
const press = (name: string | RegExp) =>
  page
    .locator('main')
    .getByRole('button', typeof name === 'string' ? { name, exact: true } : { name })
    .click();
const give = (...files: { name: string; text: string }[]) =>
  page
    .locator('main input[type=file]')
    .setInputFiles(
      files.map(({ name, text }) => ({ name, mimeType: 'text/csv', buffer: Buffer.from(text) })),
    );

/** Plots of a known answer: y = environment − 0.35 (stand − best)², without error, 2 plots a stand told apart by ±1 bu. */
function trials(products: Readonly<Record<string, number>>, sites: readonly [string, number][]): string {
  const rows = sites.flatMap(([site, environment]) =>
    Object.entries(products).flatMap(([product, best]) =>
      [26, 29, 32, 35, 38].flatMap((stand) =>
        [-1, 1].map(
          (error) =>
            `${product},corn,${site},2026,${stand * 1000},${(environment - 0.35 * (stand - best) ** 2 + error).toFixed(1)}`,
        ),
      ),
    ),
  );
  return ['product,crop,site,year,stand,yield', ...rows, ''].join('\n');
}
const SITES: [string, number][] = [
  ['Alder Bank', 170],
  ['Birch End', 185],
  ['Cress Ford', 200],
  ['Dipper Weir', 215],
];

beforeAll(async () => {
  house = await openHouse();
  watched = await watchedPage(house.browser, house.server.url, { width: 1280, height: 800 });
  page = watched.page;
});
afterAll(() => house?.close());
beforeEach(async () => {
  await page.goto(house.server.url);
  await settled(page);
  await page.locator('nav button', { hasText: 'Lineup' }).click();
});

describe('trials and products brought in', () => {
  it('shows what trials make before anything changes, takes it, and gives the old lineup back on undo', async () => {
    const answer = () => shownText(page.locator('.answer'));
    const before = await answer();
    await give({ name: 'new-trials.csv', text: trials({ 'Snipe 104': 31, 'Plover 108': 33 }, SITES) });
    await expect.poll(sheet, { timeout: 30_000 }).toContain('What comes of them');
    expect(await sheet()).toContain('80 rows read');
    expect(await sheet()).toMatch(/Snipe 104\s+31\.\dk/);
    expect(await answer()).toBe(before);
    await page.getByLabel(/plots of the lineup before/).selectOption('go');
    await expect.poll(sheet, { timeout: 30_000 }).toMatch(/Plover 108\s+33\.\dk/);
    await press('Take it into the plan');
    await expect.poll(sheet, { timeout: 20_000 }).toContain('Snipe 104');
    await press('Snipe 104');
    expect(await sheet()).toContain('40 plots at 4 sites');
    await page.getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(sheet).not.toContain('Snipe 104');
    await expect.poll(answer, { timeout: 20_000 }).toBe(before);
  });

  it('says what a reader needs before taking it: what is wrong with the whole, whose stands they are, what goes, what has no price', async () => {
    const bests = Object.fromEntries(Array.from({ length: 14 }, (_, k) => [`Dunlin ${90 + k}`, 28 + k / 2]));
    // Without another stand it has no curve of its own.
    const lent = SITES.map(([site, environment]) => `Knot 99,corn,${site},2026,32000,${environment}`);
    await give({ name: 'new-trials.csv', text: `${trials(bests, SITES)}${lent.join('\n')}\n` });
    await expect.poll(sheet, { timeout: 30_000 }).toContain('What comes of them');
    const told = await sheet();
    const at = (words: string) => {
      expect(told).toContain(words);
      return told.indexOf(words);
    };
    expect(at('What comes of them')).toBeLessThan(at('share no product with the others'));
    expect(at('share no product with the others')).toBeLessThan(at('Dunlin 90'));
    expect(told).toMatch(/on ground of \d+ bu\/ac/);
    expect(told).not.toMatch(/Knot 99\s+\d/);
    expect(at('Dunlin 90')).toBeLessThan(at('15 new products have no price yet'));
    await page.getByText(/^and \d+ more$/).click();
    await expect.poll(sheet).toMatch(/Knot 99\s+[^\n]*\n*\s*that of the others/);
    await page.getByLabel(/plots of the lineup before/).selectOption('go');
    await expect.poll(sheet, { timeout: 30_000 }).toMatch(/without a new plot keep their curves/);
    await expect.poll(sheet).toMatch(/Its \d+ plots go; the curve stays, with nothing behind it/i);
  });

  it('asks what only a person can say, and goes by the answer', async () => {
    const text = trials({ 'Snipe 104': 31 }, SITES);
    const [head, ...rows] = text.trim().split('\n');
    const withTwo = [
      `${head},grain yield`,
      ...rows.map((row) => `${row},${(Number(row.split(',').at(-1)) - 15).toFixed(1)}`),
    ].join('\n');
    await give({ name: 'two-yields.csv', text: withTwo });
    await expect.poll(sheet, { timeout: 30_000 }).toContain('Which column is the yield?');
    expect(await sheet()).toContain('1 question above is open');
    await press(/^grain yield/);
    await expect.poll(sheet, { timeout: 30_000 }).not.toContain('Which column is the yield?');
    expect(await page.getByLabel('yield, bu/ac').inputValue()).toBe('grain yield');
  });

  it('asks for the crop where nothing tells it, and keeps what is wrong with a file beside what is right with another', async () => {
    const text = trials({ 'Snipe 104': 31 }, SITES).replaceAll(',corn', '').replace(',crop', '');
    await give(
      { name: 'nameless.csv', text },
      {
        name: 'products.csv',
        text: 'name,crop,price,seeds per unit\nSnipe 104,corn,251,80000\nPlover 108,corn,-4,80000\n',
      },
      { name: 'empty.csv', text: '' },
    );
    await expect.poll(sheet, { timeout: 30_000 }).toContain('Of which crop is it?');
    for (const words of ['a price of -4', '1 set aside', 'empty.csv', 'not read'])
      expect(await sheet()).toContain(words);
    await press('corn');
    await expect.poll(sheet, { timeout: 30_000 }).toMatch(/Snipe 104\s+31\.\dk/);
    expect(await sheet()).toContain('$251.00 a unit');
    await press('Leave it');
    expect(await sheet()).toContain('Bring in trials or products');
  });

  it('hands out templates that it takes back without a word of complaint', async () => {
    for (const name of ['plots', 'products']) {
      const [saved] = await Promise.all([page.waitForEvent('download'), press(name)]);
      const text = readFileSync(await saved.path(), 'utf8');
      await give({ name: saved.suggestedFilename(), text });
      await expect.poll(sheet, { timeout: 30_000 }).toContain('What comes of them');
      expect(await sheet()).not.toContain('Refused');
      await press('Leave it');
    }
  });

  it('threw nothing and asked nobody else', () => {
    expect([...watched.foreign, ...watched.violations, ...watched.errors]).toEqual([]);
  });
});
