// Pictures for the documents, from the built app and the first sample field: `npm run build && npm run pictures`.
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { launch, settled, watchedPage } from '../tests/browser/chromium.ts';
import { mixedFolder } from '../tests/browser/mixed-folder.ts';
import { serve } from '../tests/browser/serve.ts';

const folder = fileURLToPath(new URL('pictures/', import.meta.url));
mkdirSync(folder, { recursive: true });
const app = await serve(fileURLToPath(new URL('../dist/app/', import.meta.url)));
const browser = await launch();

const window = { width: 1280, height: 800 };
const phone = { width: 390, height: 844 };

await take('rates-day', window, async () => {});
await take('why-here-day', window, async (page) => {
  const map = await page.locator('section.map').boundingBox();
  if (!map) throw new Error('no map to point at');
  await page.mouse.click(map.x + map.width * 0.4, map.y + map.height * 0.27);
  await page.getByText('Why here').first().waitFor();
});
await take('yield-night', { ...window, night: true }, async (page) => {
  await page.getByRole('button', { name: /^Evidence/ }).click();
  await page.getByRole('button', { name: 'Yield', exact: true }).click();
});
await take('product-day', window, async (page) => {
  await page.getByRole('button', { name: /^Lineup/ }).click();
  await page.getByRole('button', { name: 'Plover 108', exact: true }).click();
  await page.mouse.move(4, 4);
});
await take('points-day', window, async (page) => {
  await page.getByRole('button', { name: /^Evidence/ }).click();
  await page.getByRole('button', { name: 'Points, delay and rules' }).click();
  await page.mouse.move(4, 4);
});
const mixed = mixedFolder();
await take('handed-over-day', window, async (page) => {
  await page.getByRole('button', { name: 'Open…' }).click();
  await page.getByLabel('Choose a folder').setInputFiles(mixed.folder);
  await page.getByText(/A plan for corn/).waitFor({ timeout: 60_000 });
  await settled(page);
});
mixed.close();
await take('phone-day', phone, async () => {});
await browser.close();
await app.close();

async function take(
  name: string,
  screen: { width: number; height: number; night?: boolean },
  act: (page: Page) => Promise<void>,
): Promise<void> {
  const { context, page } = await watchedPage(browser, app.url, screen);
  await page.goto(app.url);
  await settled(page);
  await act(page);
  // The map draws after the answer stands; a still second is enough on slow machines.
  await page.waitForTimeout(1000);
  await page.screenshot({ path: `${folder}${name}.png` });
  await context.close();
}
