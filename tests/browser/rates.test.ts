import { mkdirSync } from 'node:fs';
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { figure, money, moneyDifference } from '../../src/app/parts/figures.ts';
import { chance, nineInTen, overUsualWords, verdictWords } from '../../src/app/stops/rates/gain-words.ts';
import { ownFlatRate } from '../../src/app/stops/rates/own-flat-rate.ts';
import { setGrainPrice } from '../../src/plan/edits/set-money.ts';
import { setByHand } from '../../src/plan/edits/set-rates.ts';
import { setMapCost, setSpread, setUsual } from '../../src/plan/edits/set-worth.ts';
import type { Plan } from '../../src/plan/schema.ts';
import type { PriceGrid } from '../../src/run/price-grid.ts';
import type { Results } from '../../src/run/results.ts';
import { type House, openHouse } from './built-app.ts';
import { settled, shownText, type Watched, watchedPage } from './chromium.ts';
import { sampleOnDesk } from './in-process.ts';

let house: House;
let watched: Watched;
let page: Page;
let marl: Awaited<ReturnType<typeof sampleOnDesk>>;
/** The plan's own prices, asked right after its run: a desk answers for the run that was last. */
let grid: PriceGrid;

const sheet = () => shownText(page.locator('main'));
const prices = (on = page) => on.locator('main table[aria-labelledby="other-prices"]');
const gridText = () => prices().locator('tbody td').allInnerTexts();
const gridDone = (on = page) => on.getByText(/^Outlined: prices as they are/).waitFor({ timeout: 20_000 });
const toRates = async (on: Page) => {
  await on.goto(house.server.url);
  await settled(on);
  await on.getByRole('navigation').getByRole('button', { name: /Rates/ }).click();
  await gridDone(on);
};
const undo = () => page.getByRole('button', { name: /^Undo/ }).click();

/** What the engine makes of the sample after an edit. */
async function ranAfter(edited: { plan: Plan | null }): Promise<{ plan: Plan; results: Results }> {
  const plan = edited.plan as Plan;
  return { plan, results: await marl.desk.call('run', { plan }) };
}

beforeAll(async () => {
  [house, marl] = await Promise.all([openHouse(), sampleOnDesk('marl-hollow')]);
  grid = (await marl.desk.call('prices', { plan: marl.plan })) as PriceGrid;
  watched = await watchedPage(house.browser, house.server.url, { width: 1280, height: 800 });
  page = watched.page;
  // What passes between the window and its worker, in order.
  await page.addInitScript(() => {
    const log: string[] = [];
    class Told extends Worker {
      constructor(url: string | URL, options?: WorkerOptions) {
        super(url, options);
        this.addEventListener('message', ({ data }) => {
          if (!('progress' in data)) log.push(`answer ${data.id}`);
        });
      }
      override postMessage(message: { id: number; name?: string }) {
        if (message.name === 'prices' && 'deaf' in window) return;
        if (message.name) log.push(`${message.name} ${message.id}`);
        super.postMessage(message);
      }
    }
    Object.assign(window, { log, Worker: Told });
  });
});
afterAll(() => house?.close());
beforeEach(() => toRates(page));

describe('the Rates stop', () => {
  it('says first what follows, then the worth with its chances, as the run has them', async () => {
    const worth = marl.results.worth!;
    const sure = marl.results.sure!;
    const { headline, because } = verdictWords(worth.perAc, sure.gain, 'USD', sure.mapCost_perAc);
    const panel = (await sheet()).split('Worth against the best flat plan')[1];
    expect(panel.trim().startsWith(headline)).toBe(true);
    for (const said of [
      because,
      nineInTen(sure.gain, 'USD'),
      `${money(worth.marginPerAc, 'USD')}/ac`,
      `${marl.results.lineup[worth.flat.product].name} at ${figure(worth.flat.seedsPerAc)}`,
      `${money(worth.flat.marginPerAc, 'USD')}/ac`,
      `${moneyDifference(worth.perAc, 'USD')}/ac`,
      moneyDifference(worth.perField, 'USD', 0),
      `${moneyDifference(worth.parts!.ratesPerAc, 'USD')},\u00a0${moneyDifference(worth.parts!.productsPerAc, 'USD')}`,
      `${worth.breakEven!.side}\u00a0${money(worth.breakEven!.netPrice_perBu, 'USD')}`,
      `${money(sure.knowingPerAc, 'USD')}/ac`,
    ])
      expect(panel).toContain(said);
    const drawing = page.getByRole('img', { name: /over the best flat plan, nine times in ten between/ });
    expect(await drawing.count()).toBe(1);
    for (const end of [sure.gain.low, sure.gain.high])
      expect((await drawing.textContent()) ?? '').toContain(money(end, 'USD'));
  });

  it('says of each zone what the product leads by, between which figures and how likely', async () => {
    const { choices, lineup, sure } = marl.results;
    const rows = page.locator('main table', { hasText: 'Over next' }).locator('tbody tr');
    expect(await rows.count()).toBe(choices!.length);
    for (const [k, { chosen, options }] of choices!.entries()) {
      const lead = sure!.leads[k]!;
      const next = options.find(({ product }) => product === lead.over)!;
      const row = await shownText(rows.nth(k));
      expect(row).toContain(moneyDifference(chosen.marginPerAc - next.marginPerAc, 'USD'));
      expect(row).toContain(lineup[lead.over].name);
      expect(row).toContain(`${figure(lead.chances.low)} to ${figure(lead.chances.high)}`);
      expect(row).toContain(`best: ${chance(lead.best)}`);
    }
  });

  it('holds the plan against the usual planting, a product alone at its own best flat rate, a rate alone for the product of the flat plan', async () => {
    const { flat } = marl.results.worth!;
    const product = page.getByLabel('Usual product');
    const rate = page.getByLabel('Usual rate');
    expect(await shownText(product.locator('option:checked'))).toBe('not said');

    await product.selectOption({ label: 'Plover 108' });
    const own = ownFlatRate('plover-108', marl.results, marl.plan)!;
    // What suits the flat plan's product does not suit this one.
    expect(own).toBeLessThan(flat.seedsPerAc);
    await expect.poll(() => rate.inputValue()).toBe(String(own));
    const byProduct = await ranAfter(setUsual(marl.plan, { product: 'plover-108', seedsPerAc: own }));
    const said = overUsualWords(byProduct.results.sure!.usual!, 'Plover 108', 'USD');
    await expect.poll(sheet, { timeout: 20_000 }).toContain(said);

    await undo();
    await expect.poll(sheet, { timeout: 20_000 }).not.toContain(said);
    await rate.fill('32000');
    await rate.press('Enter');
    await expect.poll(() => product.inputValue()).toBe(marl.results.lineup[flat.product].id);
    const byRate = await ranAfter(
      setUsual(marl.plan, { product: marl.results.lineup[flat.product].id, seedsPerAc: 32000 }),
    );
    await expect
      .poll(sheet, { timeout: 20_000 })
      .toContain(overUsualWords(byRate.results.sure!.usual!, marl.results.lineup[flat.product].name, 'USD'));

    await product.selectOption({ label: 'not said' });
    await expect.poll(() => rate.inputValue()).toBe('');
  });

  it('gives the worth at other prices, marks the pair there is, and asks again when a price changes', async () => {
    const texts = (own: PriceGrid) =>
      own.cells.flat().map((cell) => {
        const text = figure(cell?.perAc ?? null, 2);
        return cell && cell.otherProducts > 0 ? `${text}*` : text;
      });
    const cells = async () =>
      (await gridText()).map((text) => text.replace(/\s/g, '').match(/^[−\d.–]+\*?/)?.[0]);
    expect(await cells()).toEqual(texts(grid));
    const own = prices().locator('td', { hasText: 'prices as they are' });
    expect(await own.count()).toBe(1);
    expect(await shownText(own)).toContain(figure(marl.results.worth!.perAc, 2));
    const others = grid.cells.flat().filter((cell) => cell && cell.otherProducts > 0);
    expect(others.length).toBeGreaterThan(0);
    expect(await prices().getByText('another product in some zone').count()).toBe(others.length);

    const price = page.getByLabel('Grain price');
    await price.fill('5.00');
    await price.press('Enter');
    const dearer = await ranAfter(setGrainPrice(marl.plan, 5));
    const anew = (await marl.desk.call('prices', { plan: dearer.plan })) as PriceGrid;
    await expect.poll(cells, { timeout: 20_000 }).toEqual(texts(anew));
    await undo();
    await expect.poll(cells, { timeout: 20_000 }).toEqual(texts(grid));

    // It was asked once a plan, and never while a run was going on.
    const log = await page.evaluate(() => (window as unknown as { log: string[] }).log);
    const asked = log.flatMap((line, at) => (line.startsWith('prices') ? [at] : []));
    expect(asked.length).toBe(3);
    for (const at of asked) {
      const run = log.slice(0, at).findLast((line) => line.startsWith('run')) as string;
      expect(log.slice(0, at)).toContain(run.replace('run', 'answer'));
    }
  });

  it('says that other prices are being tried, can be told to stop, and gives way to an edit', async () => {
    const state = page.locator('main .state');
    const price = page.getByLabel('Grain price');
    await page.evaluate(() => Object.assign(window, { deaf: true }));
    const height = () => page.locator('main .held').evaluate((held) => held.clientHeight);
    const before = await height();
    await price.fill('4.50');
    await price.press('Enter');
    await page.getByText('Trying other prices…').waitFor({ timeout: 20_000 });
    // The grid of the plan before stays, pale, so that nothing jumps.
    expect(await height()).toBe(before);
    expect(await prices().getAttribute('class')).toContain('behind');
    await state.getByRole('button', { name: 'Cancel' }).click();
    await page.getByText('Other prices are not tried. You stopped it.').waitFor();
    await state.getByRole('button', { name: 'Try them' }).click();
    await page.getByText('Trying other prices…').waitFor();
    await page.evaluate(() => Reflect.deleteProperty(window, 'deaf'));
    await undo();
    await settled(page);
    await gridDone();
    expect(await prices().getAttribute('class')).not.toContain('behind');
    const texts = await gridText();
    expect(texts[0]).toContain(figure(grid.cells[0][0]!.perAc, 2));
  });

  it('says what a rate by hand costs the field, until it is taken back', async () => {
    const [zone] = marl.results.zoning!.zones;
    const seeds = 33_000;
    const byHand = await ranAfter(setByHand(marl.plan, zone.id, null, seeds));
    const [{ perField }] = byHand.results.hands;
    expect(perField).toBeGreaterThan(1);
    const cell = page.getByLabel(`Seeds per acre on ${zone.name}`);
    await cell.fill(String(seeds));
    await cell.press('Enter');
    await expect
      .poll(sheet, { timeout: 20_000 })
      .toContain(`by hand, costs ${money(perField, 'USD', 0)} on the field`);
    await page.getByRole('button', { name: 'take it back' }).click();
    await expect.poll(sheet, { timeout: 20_000 }).not.toContain('by hand, costs');
  });

  it('holds planting by map to what it costs', async () => {
    const cost = page.getByLabel('Planting by map costs');
    await cost.fill('12');
    await cost.press('Enter');
    const dear = await ranAfter(setMapCost(marl.plan, 12));
    const { perAc } = dear.results.worth!;
    const { headline, because } = verdictWords(perAc, dear.results.sure!.gain, 'USD', 12);
    expect(headline).toBe('A flat plan is as good.');
    await expect.poll(sheet, { timeout: 20_000 }).toContain(because);
    expect(await sheet()).toContain(headline);
  });

  it('takes what is assumed of prices, and undoes it', async () => {
    const gain = () => page.getByRole('img', { name: /over the best flat plan/ }).getAttribute('aria-label');
    const before = await gain();
    await page.getByText('What is taken as not sure').click();
    const spread = page.getByLabel('Price of grain');
    await spread.fill('30');
    await spread.press('Enter');
    const wider = await ranAfter(setSpread(marl.plan, 'priceSpread', 0.3));
    await expect.poll(gain, { timeout: 20_000 }).toContain(nineInTen(wider.results.sure!.gain, 'USD'));
    expect(await gain()).not.toBe(before);
    await undo();
    await expect.poll(gain, { timeout: 20_000 }).toBe(before);
    await spread.fill('80');
    await spread.press('Enter');
    await page.getByText('A spread lies between 0 and 50 %.').waitFor();
  });

  it('threw nothing and asked nobody else', () => {
    expect([...watched.foreign, ...watched.violations, ...watched.errors]).toEqual([]);
  });
});

describe.each([
  { name: 'wide-day', width: 1280, height: 800, night: false },
  { name: 'wide-night', width: 1280, height: 800, night: true },
  { name: 'phone-day', width: 390, height: 844, night: false },
  { name: 'phone-night', width: 390, height: 844, night: true },
])('the Rates stop, $name', (screen) => {
  it('has no overflow and no serious findings of axe (WCAG 2.2 A and AA), with all of it open', async () => {
    const shots = 'tests/browser/shots';
    mkdirSync(shots, { recursive: true });
    const { page: own, context } = await watchedPage(house.browser, house.server.url, screen);
    await toRates(own);
    await own.getByText('What is taken as not sure').click();
    await own.getByLabel('Usual product').selectOption({ label: 'Plover 108' });
    await own.getByText(/over the usual Plover 108/).waitFor({ timeout: 20_000 });
    await gridDone(own);
    const cut = await own.locator('main').evaluate((main) => main.scrollWidth - main.clientWidth);
    expect(cut).toBeLessThanOrEqual(0);
    for (const [part, heading] of [
      ['zones', 'Zone by zone'],
      ['worth', 'Worth against the best flat plan'],
      ['usual', 'Against what you usually plant'],
      ['prices', 'At other prices'],
    ]) {
      await own.getByRole('heading', { name: heading }).evaluate((at) => at.scrollIntoView());
      await own.screenshot({ path: `${shots}/${screen.name}-rates-${part}.png` });
    }
    const { violations } = await new AxeBuilder({ page: own })
      .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
      .setLegacyMode(true)
      .analyze();
    const grave = violations.filter(({ impact }) => impact === 'serious' || impact === 'critical');
    expect(grave.map(({ id, nodes }) => `${id} ${nodes.map(({ html }) => html).join(' | ')}`)).toEqual([]);
    await context.close();
  });
});
