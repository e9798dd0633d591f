import type { Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { figure, money } from '../../src/app/parts/figures.ts';
import type { Edited } from '../../src/plan/edits/edit.ts';
import { setMostShare, setMustUse, setPlanter, setSpare } from '../../src/plan/edits/set-limits.ts';
import { setByHand } from '../../src/plan/edits/set-rates.ts';
import type { Results } from '../../src/run/results.ts';
import { type House, openHouse } from './built-app.ts';
import { settled, shownText, type Watched, watchedPage } from './chromium.ts';
import { sampleOnDesk } from './in-process.ts';

let house: House;
let watched: Watched;
let page: Page;
let marl: Awaited<ReturnType<typeof sampleOnDesk>>;

const sheet = () => shownText(page.locator('main'));
const undo = () => page.getByRole('button', { name: /^Undo/ }).click();
const says = (text: string | RegExp) =>
  page.locator('main').getByText(text).first().waitFor({ timeout: 20_000 });
const type = async (label: string, text: string) => {
  const field = page.getByLabel(label, { exact: true });
  await field.fill(text);
  await field.press('Enter');
};

/** What the engine makes of the sample after an edit. */
async function ranAfter({ plan }: Edited): Promise<Results> {
  if (!plan) throw new Error('refused');
  return marl.desk.call('run', { plan });
}

beforeAll(async () => {
  [house, marl] = await Promise.all([openHouse(), sampleOnDesk('marl-hollow')]);
  watched = await watchedPage(house.browser, house.server.url, { width: 1280, height: 800 });
  page = watched.page;
});
afterAll(() => house?.close());
beforeEach(async () => {
  await page.goto(house.server.url);
  await settled(page);
  await page.getByRole('navigation').getByRole('button', { name: /Rates/ }).click();
  await page.getByText('Limits', { exact: true }).click();
});

describe('limits at the Rates stop', () => {
  it('hold a product to a share of the field, say what that costs, and are undone', async () => {
    const { limits } = await ranAfter(setMostShare(marl.plan, 0.55));
    const held = limits.find(({ limit }) => limit === 'most acres')!;
    expect(held.costsPerAc).toBeGreaterThan(0);
    await type('One product at most', '55');
    await says(held.says);
    expect(await sheet()).toContain(`${money(held.costsPerAc, 'USD')}/ac`);
    await undo();
    await page.locator('main').getByText(held.says).waitFor({ state: 'detached', timeout: 20_000 });
  });

  it('plant a product that must be, and take its seed on hand', async () => {
    const { choices, lineup } = await ranAfter(setMustUse(marl.plan, 'sora-105', true));
    const zone = choices!.findIndex(({ chosen }) => lineup[chosen.product].id === 'sora-105');
    expect(zone).toBeGreaterThanOrEqual(0);
    await page.getByLabel('Another product').selectOption('sora-105');
    await page.getByLabel('Sora 105 is to be planted').check();
    await says(/Held by Sora 105 to be planted/);
    const own = page.getByLabel(`Product on ${marl.results.zoning!.zones[zone].name}`);
    await expect.poll(() => own.inputValue(), { timeout: 20_000 }).toBe('sora-105');
    await type('Units of Sora 105 on hand', '1');
    // One unit plants no zone of the field, and it must be planted: the limits cannot both be kept.
    await expect
      .poll(() => shownText(page.locator('body')), { timeout: 20_000 })
      .toMatch(/Take off (any one of these limits|that limit)/);
  });

  it('hold rates to what the meter drops, in the rows and at the speed told', async () => {
    const planter = { row_in: 20, speed_mph: 10, mostSeedsPerSecond: 18 };
    const { choices } = await ranAfter(setPlanter(marl.plan, planter));
    await type('in rows of', '20');
    await type('at a speed of', '10');
    await type('Meter drops at most', '18');
    await says(/held to what the meter drops/);
    const rates = await page.locator('main input[aria-label^="Seeds per acre on"]').all();
    expect(await Promise.all(rates.map((own) => own.inputValue()))).toEqual(
      choices!.map(({ chosen }) => figure(chosen.seedsPerAc)),
    );
  });
});

describe('a product by hand at the Rates stop', () => {
  it('is planted, priced, and taken back', async () => {
    const { zones } = marl.results.zoning!;
    const { hands } = await ranAfter(setByHand(marl.plan, zones[3].id, 'plover-108', null));
    expect(hands[0].perField).toBeGreaterThan(1);
    await page.getByLabel(`Product on ${zones[3].name}`).selectOption('plover-108');
    await says(`costs ${money(hands[0].perField, 'USD', 0)} on the field`);
    await page.getByRole('button', { name: 'take it back' }).click();
    await expect
      .poll(() => page.getByLabel(`Product on ${zones[3].name}`).inputValue(), { timeout: 20_000 })
      .toBe('bittern-112');
    expect(await page.getByRole('button', { name: 'take it back' }).count()).toBe(0);
  });
});

describe('the order at the Rates stop', () => {
  it('holds the spare asked for, and whole boxes', async () => {
    const { ledger } = await ranAfter(setSpare(marl.plan, 0.04));
    await type('Spare seed', '4');
    await says(figure(ledger!.order[0].spareSeeds));
    const rows = page.locator('main table', { hasText: 'Spare seeds' }).locator('tbody tr');
    for (const [k, line] of ledger!.order.entries())
      expect(await shownText(rows.nth(k))).toContain(figure(line.units));
    await type('Units in a box', '45');
    await says('Boxes');
  });

  it('threw nothing and asked nobody else', () => {
    expect([...watched.foreign, ...watched.violations, ...watched.errors]).toEqual([]);
  });
});
