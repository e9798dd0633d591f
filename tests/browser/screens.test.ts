import { mkdirSync } from 'node:fs';
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { lineupTemplate } from '../../src/formats/lineup/template-lineup.ts';
import { trialTemplate } from '../../src/formats/lineup/template-trial.ts';
import { type House, openHouse } from './built-app.ts';
import { settled, shownText, watchedPage } from './chromium.ts';
import { mixedFolder } from './mixed-folder.ts';

const SHOTS = 'tests/browser/shots';
const screens = [
  { name: 'wide-day', width: 1280, height: 800, night: false },
  { name: 'wide-night', width: 1280, height: 800, night: true },
  { name: 'phone-day', width: 390, height: 844, night: false },
  { name: 'phone-night', width: 390, height: 844, night: true },
];
const stops = ['Field', 'Evidence', 'Zones', 'Lineup', 'Rates', 'Review', 'Hand-off'];

let house: House;
let mixed: ReturnType<typeof mixedFolder>;
beforeAll(async () => {
  mixed = mixedFolder();
  mkdirSync(SHOTS, { recursive: true });
  house = await openHouse();
});
afterAll(async () => {
  mixed?.close();
  await house?.close();
});

/** Nothing wider than the window, nothing serious or critical to axe, and a picture to look at. */
async function look(page: Page, screen: (typeof screens)[number], what: string) {
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(wide, `${what} is wider than the window`).toBeLessThanOrEqual(0);
  const cut = await page.evaluate(() => {
    const sheet = document.querySelector('main') as HTMLElement;
    return sheet.scrollWidth - sheet.clientWidth;
  });
  expect(cut, `${what} is wider than its sheet`).toBeLessThanOrEqual(0);
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
    .setLegacyMode(true)
    .analyze();
  const grave = violations.filter(({ impact }) => impact === 'serious' || impact === 'critical');
  expect(
    grave.map(({ id, nodes }) => `${what}: ${id} ${nodes.map((node) => node.html).join(' | ')}`),
  ).toEqual([]);
  await page.screenshot({ path: `${SHOTS}/${screen.name}-${what}.png` });
}

const toStop = (page: Page, stop: string) =>
  page
    .locator('nav button')
    .filter({ has: page.locator('.name', { hasText: stop }) })
    .click();

describe.each(screens)('$name', (screen) => {
  it('has every stop without overflow and without serious findings of axe (WCAG 2.2 A and AA)', async () => {
    const { page, context } = await watchedPage(house.browser, house.server.url, screen);
    await page.goto(house.server.url);
    await settled(page);
    for (const stop of stops) {
      await toStop(page, stop);
      if (stop === 'Rates') {
        await page.locator('.box').focus();
        await page.keyboard.press('ArrowUp');
        await page.locator('article').waitFor();
      }
      await look(page, screen, stop.toLowerCase());
      if (stop === 'Rates') await page.locator('article button').click();
    }
    await context.close();
  });

  it('has a product opened, from its curves to a rule being written', async () => {
    const { page, context } = await watchedPage(house.browser, house.server.url, screen);
    await page.goto(house.server.url);
    await settled(page);
    await toStop(page, 'Lineup');
    await page.getByRole('button', { name: 'Plover 108', exact: true }).click();
    await look(page, screen, 'product');
    await page.getByRole('heading', { name: 'Head to head' }).scrollIntoViewIfNeeded();
    await look(page, screen, 'head-to-head');
    await page.getByRole('button', { name: 'Add a rule' }).click();
    await page.getByRole('button', { name: 'Add the rule' }).scrollIntoViewIfNeeded();
    await look(page, screen, 'rule-form');
    await page.getByRole('heading', { name: 'Ratings' }).scrollIntoViewIfNeeded();
    await look(page, screen, 'ratings');
    await context.close();
  });

  it('has trials looked at before they are brought in', async () => {
    const { page, context } = await watchedPage(house.browser, house.server.url, screen);
    await page.goto(house.server.url);
    await settled(page);
    await toStop(page, 'Lineup');
    const file = (name: string, text: string) => ({ name, mimeType: 'text/csv', buffer: Buffer.from(text) });
    await page.getByRole('heading', { name: 'Bring in trials or products' }).scrollIntoViewIfNeeded();
    await look(page, screen, 'bring-in');
    await page
      .locator('main input[type=file]')
      .setInputFiles([
        file('trials-of-a-year-and-a-farm-with-a-long-name.csv', trialTemplate()),
        file('products.csv', lineupTemplate()),
        file('empty.csv', ''),
      ]);
    await page.getByText('What comes of them').waitFor();
    await look(page, screen, 'arriving');
    await page.getByText('How it is read').first().click();
    await page.getByText('What comes of them').scrollIntoViewIfNeeded();
    await look(page, screen, 'arriving-below');
    await context.close();
  });

  it('has a yield map opened, with a rule and the delay, and the doubt of the environment', async () => {
    const { page, context } = await watchedPage(house.browser, house.server.url, screen);
    await page.goto(house.server.url);
    await settled(page);
    await toStop(page, 'Evidence');
    await page.getByRole('button', { name: 'Spread between years' }).click();
    await look(page, screen, 'spread');
    await page.getByRole('button', { name: 'Points, delay and rules' }).click();
    await page.getByRole('button', { name: /found nothing/ }).click();
    await page.mouse.move(4, 4);
    await look(page, screen, 'points');
    await page.getByText('speed changed suddenly', { exact: true }).click();
    await page.mouse.move(4, 4);
    await look(page, screen, 'rule');
    await page.getByRole('heading', { name: 'Delay from header to sensor' }).scrollIntoViewIfNeeded();
    await look(page, screen, 'delay');
    await context.close();
  });

  it('has the open dialog, what was handed over, a question and the stops without a lineup', async () => {
    const { page, context } = await watchedPage(house.browser, house.server.url, screen);
    await page.goto(house.server.url);
    await settled(page);
    await page.getByRole('button', { name: 'Open…' }).click();
    await look(page, screen, 'open');
    await page.getByLabel('Choose a folder').setInputFiles(mixed.folder);
    await page.getByText(/A plan for corn/).waitFor({ timeout: 60_000 });
    await settled(page);
    await look(page, screen, 'handed-over');
    await page.getByRole('button', { name: 'Go on to the evidence' }).click();
    await look(page, screen, 'question');
    await page.getByRole('button', { name: 'OM (%)' }).click();
    await look(page, screen, 'other');
    for (const stop of ['Lineup', 'Rates', 'Review', 'Hand-off']) {
      await toStop(page, stop);
      await look(page, screen, `no-lineup-${stop.toLowerCase()}`);
    }
    await context.close();
  });
});

describe('by keyboard alone', () => {
  it('reaches stops, map, sheet and ledger in order, shows where it is, and moves the picked spot', async () => {
    const { page, context } = await watchedPage(house.browser, house.server.url, screens[0]);
    await page.goto(house.server.url);
    await settled(page);
    const seen: string[] = [];
    for (let k = 0; k < 60; k++) {
      await page.keyboard.press('Tab');
      const here = await page.evaluate(() => {
        const at = document.activeElement as HTMLElement;
        return {
          part:
            at.closest('nav, .map, main, .ledger, header')?.className.split(' ')[0] ||
            at.closest('nav, main, header')?.tagName ||
            '',
          outline: getComputedStyle(at).outlineStyle,
          isBody: at === document.body,
        };
      });
      if (here.isBody) break;
      expect(here.outline, `focus on ${here.part} cannot be seen`).not.toBe('none');
      if (seen[seen.length - 1] !== here.part) seen.push(here.part);
    }
    const order = seen.map((part) => part.replace(/^svelte-.*/, ''));
    expect(order.filter((part) => part === 'map').length).toBe(1);
    expect(order[order.length - 1]).toBe('ledger');

    await page
      .getByRole('navigation')
      .getByRole('button', { name: /^Zones/ })
      .focus();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Zones', exact: true }).waitFor();
    await page.locator('.box').focus();
    await page.keyboard.press('ArrowRight');
    const where = page.locator('article h2');
    await where.waitFor();
    const first = await shownText(where);
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => shownText(where)).not.toBe(first);
    await page.keyboard.press('ArrowLeft');
    await expect.poll(() => shownText(where)).toBe(first);
    await page.keyboard.press('Escape');
    await expect.poll(() => where.count()).toBe(0);
    await context.close();
  });
});
