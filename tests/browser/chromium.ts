import { type Browser, type BrowserContext, chromium, type Locator, type Page } from 'playwright-core';
import { chromiumPath } from '../chromium.mjs';

/** Chromium without a head, drawing WebGL in software and looking nobody up. CHROMIUM_PATH names another. */
export async function launch(): Promise<Browser> {
  const executablePath = chromiumPath();
  if (!executablePath) throw new Error('Browser tests need Chromium (Debian: apt-get install chromium)');
  return chromium.launch({
    executablePath,
    args: [
      '--no-sandbox',
      '--use-angle=swiftshader',
      '--enable-unsafe-swiftshader',
      '--ignore-gpu-blocklist',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1 , EXCLUDE localhost',
    ],
  });
}

/** What a page did that it should not have done. */
export interface Watched {
  readonly context: BrowserContext;
  readonly page: Page;
  /** Requests to any other origin, worker requests included; all are blocked. */
  readonly foreign: string[];
  readonly violations: string[];
  readonly errors: string[];
}

type Screen = { width: number; height: number; night?: boolean };

/** A page whose every request, policy violation and error is noted. */
export async function watchedPage(browser: Browser, home: string, screen: Screen): Promise<Watched> {
  const context = await browser.newContext({
    viewport: { width: screen.width, height: screen.height },
    colorScheme: screen.night ? 'dark' : 'light',
    reducedMotion: 'reduce',
    acceptDownloads: true,
  });
  const foreign: string[] = [];
  const violations: string[] = [];
  const errors: string[] = [];
  await context.route('**/*', (route) => {
    const url = route.request().url();
    if (url.startsWith(home) || url.startsWith('data:') || url.startsWith('blob:')) return route.continue();
    foreign.push(url);
    return route.abort();
  });
  await context.exposeFunction('tellViolation', (text: string) => violations.push(text));
  await context.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', (event) => {
      const tell = (window as unknown as { tellViolation: (text: string) => void }).tellViolation;
      tell(`${event.violatedDirective} ${event.blockedURI} ${event.sourceFile}:${event.lineNumber}`);
    });
  });
  const page = await context.newPage();
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  return { context, page, foreign, violations, errors };
}

/** Wait until the answer of the present plan stands, nothing is being worked on and the map can be clicked. */
export async function settled(page: Page): Promise<void> {
  await page.locator('[data-settled="true"].answer').waitFor({ timeout: 90_000 });
  await page.locator('[data-ready="true"].map').waitFor({ timeout: 30_000 });
}

/** The text of the first element found, as shown. */
export async function shownText(locator: Locator): Promise<string> {
  return (await locator.allInnerTexts())[0];
}
