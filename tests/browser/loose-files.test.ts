import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { nextSeason } from '../../src/app/state/next-season.ts';
import type { DraftAnswer } from '../../src/jobs/calls.ts';
import { createDesk } from '../../src/jobs/desk.ts';
import { answerSentence } from '../../src/run/say.ts';
import { type House, openHouse } from './built-app.ts';
import { settled, shownText, type Watched, watchedPage } from './chromium.ts';
import { SAMPLES } from './in-process.ts';
import { mixedFolder } from './mixed-folder.ts';

let house: House;
let watched: Watched;
let page: Page;
let mixed: ReturnType<typeof mixedFolder>;
/** What the engine makes of the same files in this process. */
let drafted: DraftAnswer;
let said: string;

const answer = () => shownText(page.locator('.answer'));
const sheet = () => shownText(page.locator('main'));

beforeAll(async () => {
  mixed = mixedFolder();
  const files = readdirSync(mixed.folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .map((path) => ({
      name: relative(mixed.folder, path),
      bytes: new Uint8Array(readFileSync(path)),
    }))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
  const desk = createDesk();
  const season = nextSeason(new Date());
  drafted = await desk.call('draft', { files, name: 'Marl Hollow papers', season, crop: 'corn' });
  said = answerSentence(await desk.call('run', { plan: drafted.plan! }), drafted.plan!);
  house = await openHouse();
  watched = await watchedPage(house.browser, house.server.url, { width: 1280, height: 800 });
  page = watched.page;
});
afterAll(async () => {
  mixed?.close();
  await house?.close();
});
beforeEach(async () => {
  await page.goto(house.server.url);
  await settled(page);
});

/** Choose the mixed folder in the open dialog, and wait for its plan. */
async function handOver() {
  await page.getByRole('button', { name: 'Open…' }).click();
  await page.getByLabel('Choose a folder').setInputFiles(mixed.folder);
  await page.getByText(/A plan for corn/).waitFor({ timeout: 60_000 });
  await expect.poll(answer, { timeout: 30_000 }).toBe(said);
}

/** Drop files on the window as a browser would. */
async function drop(files: readonly { name: string; text: string }[]) {
  await page.evaluate((given) => {
    const dataTransfer = new DataTransfer();
    for (const { name, text } of given) dataTransfer.items.add(new File([text], name));
    window.dispatchEvent(new DragEvent('drop', { dataTransfer, bubbles: true, cancelable: true }));
  }, files);
}

const boundary = () => ({
  name: 'boundary.geojson',
  text: readFileSync(join(SAMPLES, 'marl-hollow', 'boundary.geojson'), 'utf8'),
});

describe('loose files', () => {
  it('make a plan out of a folder: every file is used with its reason, or explained', async () => {
    await handOver();
    const text = await sheet();
    for (const { file, because } of drafted.files) {
      expect(text).toContain(file);
      expect(text.toLowerCase()).toContain(because.toLowerCase());
    }
    const notRead = text.slice(text.indexOf('Not read'));
    for (const name of ['broken.zip', 'README.txt']) expect(notRead).toContain(name);
    await page.locator('nav', { hasText: '1 question for you' }).waitFor();
    await page.getByRole('button', { name: 'Go on to the evidence' }).click();
    await page.getByRole('heading', { name: 'Evidence', exact: true }).waitFor();
    await page.getByRole('button', { name: 'What was handed over' }).click();
    await page.getByRole('heading', { name: 'What was handed over' }).waitFor();
  });

  it('show soil tests as layers to look at', async () => {
    await handOver();
    await page.getByRole('button', { name: 'Go on to the evidence' }).click();
    await page.getByRole('button', { name: 'OM (%)' }).click();
    await page.locator('.legend summary', { hasText: 'OM (%)' }).waitFor();
    await page.getByLabel('Other layer').selectOption({ label: 'pH' });
    await page.locator('.legend summary', { hasText: 'pH' }).waitFor();
    // Drawn from 6.06 to 6.94 over the box.
    expect(await page.locator('.legend .ticks').allInnerTexts()).not.toContain('NaN');
    const row = page.locator('tr', { hasText: 'pH' });
    const mean = Number((await shownText(row.locator('td').first())).trim());
    expect(Math.abs(mean - 6.5)).toBeLessThan(0.15);
  });

  it('ask for the unit nothing tells, with the yield each would give, and undo asks again', async () => {
    await handOver();
    await page.getByRole('button', { name: 'Go on to the evidence' }).click();
    await page.getByRole('heading', { name: 'In which unit is Yield 2021?' }).waitFor();
    // A bushel of corn weighs 56 lb, a hectare is 2.471 ac, a kilogram 2.2046 lb: the file's mean is near 11,000.
    const row = page.locator('tbody', { hasText: 'Yield 2021' }).locator('td').nth(1);
    const mean = Number((await shownText(row)).split('\n')[0].replace(',', ''));
    const asked = page.locator('section', { hasText: 'In which unit' });
    const preview = async (unit: string) => {
      const shown = await shownText(asked.getByRole('button', { name: unit }).locator('.preview'));
      return Number(shown.replace(' bu/ac', ''));
    };
    expect(Math.abs((await preview('lb/ac')) - mean / 56)).toBeLessThanOrEqual(0.51);
    expect(Math.abs((await preview('kg/ha')) - (mean * 2.20462) / 2.47105 / 56)).toBeLessThanOrEqual(0.51);
    await page.getByRole('button', { name: /^kg\/ha/ }).click();
    await expect.poll(() => page.getByRole('heading', { name: /^In which unit/ }).count()).toBe(0);
    await settled(page);
    await expect
      .poll(async () => (await shownText(row)).split('\n')[0])
      .toBe(String(Math.round((mean * 2.20462) / 2.47105 / 56)));
    await page.getByRole('button', { name: /^Undo: Yield 2021: yield unit kg\/ha/ }).click();
    await page.getByRole('heading', { name: 'In which unit is Yield 2021?' }).waitFor();
    await expect.poll(answer, { timeout: 30_000 }).toBe(said);
  });

  it('leave every stop whole without a lineup and prices, each saying what it waits for', async () => {
    await handOver();
    for (const stop of ['Lineup', 'Rates', 'Review', 'Hand-off']) {
      await page
        .locator('nav button')
        .filter({ has: page.locator('.name', { hasText: stop }) })
        .click();
      await page.getByText('The plan has no lineup').waitFor();
      await page.getByText('There is no grain price.').waitFor();
    }
    await page.getByRole('button', { name: 'Set the grain price' }).click();
    await page.getByLabel('Grain price').fill('4.30');
    await page.getByLabel('Grain price').press('Enter');
    await expect.poll(() => page.getByText('There is no grain price.').count()).toBe(0);
  });

  it('without a boundary keep what was open and what was dropped, and make a plan once it is added', async () => {
    const before = await answer();
    await drop([
      { name: 'notes.txt', text: 'nothing to map' },
      { name: 'grain.csv', text: 'longitude,latitude,Yield bu/ac\n-93.2,42.1,180\n-93.2001,42.1,181\n' },
    ]);
    await page.getByRole('button', { name: 'Make a plan of 2 files' }).click();
    await page.getByText('No plan can be made of them yet.').waitFor();
    await page.getByText('Marl Hollow is open as it was.').waitFor();
    await expect.poll(answer, { timeout: 30_000 }).toBe(before);
    expect(await sheet()).toContain('grain.csv');
    await drop([boundary()]);
    await page.getByText(/A plan for corn/).waitFor({ timeout: 30_000 });
    await settled(page);
    const after = await sheet();
    for (const name of ['boundary.geojson', 'grain.csv', 'notes.txt']) expect(after).toContain(name);
  });

  it('wait for a crop that is named, and lose nothing over it', async () => {
    await drop([boundary()]);
    await page.getByLabel('Crop to plant').selectOption('other');
    await page.getByRole('button', { name: 'Make a plan of 1 file' }).click();
    await page.getByText('Name the crop').waitFor();
    await page.getByLabel('Which crop').fill('sorghum');
    await page.getByRole('button', { name: 'Make a plan of 1 file' }).click();
    await page.getByText(/A plan for sorghum/).waitFor({ timeout: 30_000 });
    await settled(page);
    await page.locator('header', { hasText: `sorghum ${nextSeason(new Date())}` }).waitFor();
  });

  it('asked nobody else for anything, broke no policy and raised no error in all of this', () => {
    expect(watched.foreign).toEqual([]);
    expect(watched.violations).toEqual([]);
    expect(house.server.violations).toEqual([]);
    expect(house.server.missing).toEqual([]);
    expect(watched.errors).toEqual([]);
  });
});
