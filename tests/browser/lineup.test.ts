import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { headToHead } from '../../src/engine/lineup/head-to-head.ts';
import { headToHeadSentences } from '../../src/engine/lineup/head-to-head-words.ts';
import { lineupTrials } from '../../src/plan/lineup-trials.ts';
import { type House, openHouse } from './built-app.ts';
import { settled, shownText, type Watched, watchedPage } from './chromium.ts';
import { sampleOnDesk } from './in-process.ts';

let house: House;
let watched: Watched;
let page: Page;
let marl: Awaited<ReturnType<typeof sampleOnDesk>>;
const sheet = () => shownText(page.locator('main'));
const open = (name: string) => page.getByRole('button', { name, exact: true }).click();

beforeAll(async () => {
  [house, marl] = await Promise.all([openHouse(), sampleOnDesk('marl-hollow')]);
  watched = await watchedPage(house.browser, house.server.url, { width: 1280, height: 800 });
  page = watched.page;
});
afterAll(() => house?.close());
beforeEach(async () => {
  await page.goto(house.server.url);
  await settled(page);
  await page.locator('nav button', { hasText: 'Lineup' }).click();
});

describe('the Lineup stop', () => {
  it('has every product of the crop, and opens one with its curves, its ground and its ratings', async () => {
    const corn = marl.results.lineupDocument!.products.filter(({ crop }) => crop === 'corn');
    for (const { name } of corn) expect(await sheet()).toContain(name);
    await open('Plover 108');
    expect(await page.locator('main figure').count()).toBeGreaterThanOrEqual(4);
    for (const text of [
      'Poorer ground',
      'Middling ground',
      'Better ground',
      'Best stand',
      'stalk strength',
      'Seed coat A',
    ])
      expect(await sheet()).toContain(text);
    await page.getByRole('button', { name: '← The whole lineup' }).click();
    await expect.poll(() => page.evaluate(() => document.activeElement?.id)).toBe('product-plover-108');
  });

  it('says head to head what the engine does', async () => {
    await open('Plover 108');
    await page.getByLabel('Against').selectOption({ label: 'Bittern 112' });
    const lineup = marl.results.lineupDocument!;
    const at = (name: string) => lineup.products.findIndex((product) => product.name === name);
    const table = lineupTrials(lineup);
    const found = headToHead(
      table,
      at('Plover 108'),
      [at('Bittern 112')],
      table.sites.map((site) => site.environment_buPerAc),
    );
    const said = headToHeadSentences(found, { one: 'Plover 108', other: 'Bittern 112' });
    for (const sentence of said) expect(await sheet()).toContain(sentence);
  });

  it('takes a price, runs anew, and gives the old one back on undo', async () => {
    const answer = () => shownText(page.locator('.answer'));
    const before = await answer();
    await open('Bittern 112');
    const price = page.getByLabel('Price', { exact: true });
    const old = await price.inputValue();
    await price.fill('618');
    await price.press('Enter');
    await expect.poll(answer, { timeout: 20_000 }).not.toBe(before);
    const [saved] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save the lineup as you changed it' }).click(),
    ]);
    expect(saved.suggestedFilename()).toBe('lineup.json');
    const kept = JSON.parse(readFileSync(await saved.path(), 'utf8'));
    const bittern = kept.products.find((own: { id: string }) => own.id === 'bittern-112');
    expect(bittern.pricePerUnit).toBe(618);
    await page.getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(sheet).not.toContain('Save the lineup as you changed it');
    await expect.poll(answer, { timeout: 20_000 }).toBe(before);
    expect(await price.inputValue()).toBe(old);
  });

  it('takes a rule that keeps a product out of the ground it names, and lets it be taken out again', async () => {
    await open('Bittern 112');
    await page.getByRole('button', { name: 'Add a rule' }).click();
    await page.getByLabel('It', { exact: true }).selectOption('never');
    await page.getByLabel('from').fill('100');
    await page.getByRole('button', { name: 'Add the rule' }).click();
    expect(await sheet()).toContain('A rule needs its reason.');
    await page.getByLabel('because').fill('it was promised to another farm');
    await page.getByLabel('says').fill('R. Fenwick');
    await page.getByRole('button', { name: 'Add the rule' }).click();
    await page
      .getByText(/Not here because it was promised to another farm \(by R. Fenwick\)/)
      .first()
      .waitFor({ timeout: 20_000 });
    await page.getByRole('button', { name: '← The whole lineup' }).click();
    const row = page.locator('main tr', {
      has: page.getByRole('button', { name: 'Bittern 112', exact: true }),
    });
    await expect.poll(() => shownText(row), { timeout: 20_000 }).toMatch(/not on /);
    await open('Bittern 112');
    await page.getByRole('button', { name: 'Take out the rule: it was promised to another farm' }).click();
    await expect.poll(sheet, { timeout: 20_000 }).not.toContain('promised to another farm');
  });

  it('opens on the zone of most acres, and says which ground the table is of', async () => {
    const { zones } = marl.results.zoning!;
    const largest = zones.reduce((most, zone) => (zone.area_m2 > most.area_m2 ? zone : most));
    const chosen = page.getByLabel('On the ground of').locator('option:checked');
    expect(await shownText(chosen)).toContain(largest.name);
    const bushels = largest.environment_buPerAc.toFixed(0);
    expect(await sheet()).toContain(`What each would earn on ${largest.name}, ground of ${bushels} bu/ac`);
  });

  it('takes prices one under the other, rows staying where they are until all are typed', async () => {
    const names = () => page.locator('main tbody th button').allInnerTexts();
    const price = (name: string) => page.getByLabel(`Price of ${name}, $/unit`);
    const before = await names();
    const [first, second] = before;
    const old = await price(first).inputValue();
    await price(first).fill('2,000');
    await price(first).press('Enter');
    await expect.poll(() => page.evaluate(() => document.activeElement?.ariaLabel)).toContain(second);
    await page.getByRole('button', { name: `Undo: ${first} at $2,000.00` }).waitFor();
    await settled(page);
    expect(await names()).toEqual(before);
    await page.locator('main h3').first().click();
    await expect.poll(async () => (await names()).indexOf(first)).toBeGreaterThan(0);
    await price(second).fill('-4');
    await price(second).press('Enter');
    await page.getByText(`${second}: A price is zero or more.`).waitFor();
    expect(Number(await price(second).inputValue())).toBeGreaterThan(0);
    await price(second).fill('much');
    await price(second).press('Enter');
    expect(await page.evaluate(() => document.activeElement?.ariaLabel)).toContain(second);
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: /^Undo/ }).click();
    await expect.poll(names, { timeout: 20_000 }).toEqual(before);
    expect(await price(first).inputValue()).toBe(old);
  });

  it('shows a product without a price last, and says on its card what that keeps from being told', async () => {
    await page.getByLabel('Price of Bittern 112, $/unit').fill('');
    await page.locator('main h3').first().click();
    const last = page.locator('main tbody tr').last();
    await expect.poll(() => shownText(last), { timeout: 20_000 }).toMatch(/Bittern 112[\s\S]*no price/);
    await open('Bittern 112');
    expect(await sheet()).toContain('What pays best needs its price.');
    expect(await sheet()).not.toContain('pays best 2');
  });

  it('folds a long lineup', async () => {
    const lineup = marl.results.lineupDocument!;
    const plover = lineup.products.find(({ name }) => name === 'Plover 108')!;
    const products = Array.from({ length: 60 }, (_, k) => ({
      ...plover,
      id: `copy-${k}`,
      name: `Copy ${k}`,
      pricePerUnit: k < 50 ? 200 + k : null,
    }));
    const text = JSON.stringify({ ...lineup, products: [...lineup.products, ...products] });
    await page
      .locator('main input[type=file]')
      .setInputFiles([{ name: 'long.json', mimeType: 'application/json', buffer: Buffer.from(text) }]);
    await page.getByRole('button', { name: 'Take it into the plan' }).click({ timeout: 60_000 });
    const shown = () => page.locator('main tbody tr').count();
    await expect.poll(sheet, { timeout: 30_000 }).toContain('10 without a price come last');
    expect(await shown()).toBeLessThan(50);
    expect(await sheet()).toMatch(/Of 6\d products the 40 that head the table are drawn/);
    await open('Show all');
    expect(await shown()).toBeGreaterThanOrEqual(60);
    await open('Copy 59');
    await page.getByRole('button', { name: '← The whole lineup' }).click();
    await expect.poll(() => page.evaluate(() => document.activeElement?.id)).toBe('product-copy-59');
    await open('Show the first 40');
    await expect.poll(shown).toBeLessThan(50);
  });

  it('says that the trials are being read, can be told to stop, and reads them when asked again', async () => {
    // The first question to the thread is kept from it; the next goes through.
    const deaf = `let kept = false; self.Worker = class extends self.Worker {
      #deaf; constructor(url, options) { super(url, options); this.#deaf = /browser-lineup/.test(url) && !kept; kept ||= this.#deaf; }
      postMessage(message) { if (!this.#deaf) super.postMessage(message); }
    };`;
    const desk = /browser-worker-.*\.js/;
    await page.route(desk, async (route) => {
      const answer = await route.fetch();
      await route.fulfill({ response: answer, body: deaf + (await answer.text()) });
    });
    await page.goto(house.server.url);
    await settled(page);
    await page.locator('nav button', { hasText: 'Lineup' }).click();
    await page.getByText('Reading the trials…').waitFor();
    expect(await sheet()).not.toContain('Ground is measured');
    await open('Cancel');
    await page.getByText('The trials are not read. You stopped it.').waitFor();
    await open('Read them');
    await page.getByText(/Ground is measured/).waitFor();
    await page.unroute(desk);
  });

  it('threw nothing and asked nobody else', () => {
    expect([...watched.foreign, ...watched.violations, ...watched.errors]).toEqual([]);
  });
});
