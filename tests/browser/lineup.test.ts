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

  it('threw nothing and asked nobody else', () => {
    expect([...watched.foreign, ...watched.violations, ...watched.errors]).toEqual([]);
  });
});
