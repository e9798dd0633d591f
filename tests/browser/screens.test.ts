import { mkdirSync } from 'node:fs';
import { AxeBuilder } from '@axe-core/playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type House, openHouse } from './built-app.ts';
import { settled, shownText, watchedPage } from './chromium.ts';

const SHOTS = 'tests/browser/shots';
const screens = [
  { name: 'wide-day', width: 1280, height: 800, night: false },
  { name: 'wide-night', width: 1280, height: 800, night: true },
  { name: 'phone-day', width: 390, height: 844, night: false },
  { name: 'phone-night', width: 390, height: 844, night: true },
];
const stops = ['Field', 'Evidence', 'Zones', 'Lineup', 'Rates', 'Review', 'Hand-off'];

let house: House;
beforeAll(async () => {
  mkdirSync(SHOTS, { recursive: true });
  house = await openHouse();
});
afterAll(() => house?.close());

describe.each(screens)('$name', (screen) => {
  it('has every stop without overflow and without serious findings of axe (WCAG 2.2 A and AA)', async () => {
    const { page, context } = await watchedPage(house.browser, house.server.url, screen);
    await page.goto(house.server.url);
    await settled(page);
    for (const stop of stops) {
      await page.locator('nav button', { hasText: stop }).click();
      if (stop === 'Rates') {
        await page.locator('.box').focus();
        await page.keyboard.press('ArrowUp');
        await page.locator('article').waitFor();
      }
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(wide, `${stop} is wider than the window`).toBeLessThanOrEqual(0);
      const { violations } = await new AxeBuilder({ page })
        .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
        .setLegacyMode(true)
        .analyze();
      const grave = violations.filter(({ impact }) => impact === 'serious' || impact === 'critical');
      expect(
        grave.map(({ id, nodes }) => `${stop}: ${id} ${nodes.map((node) => node.html).join(' | ')}`),
      ).toEqual([]);
      await page.screenshot({ path: `${SHOTS}/${screen.name}-${stop.toLowerCase()}.png` });
      if (stop === 'Rates') await page.locator('article button').click();
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

    await page.locator('nav button', { hasText: 'Zones' }).focus();
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
