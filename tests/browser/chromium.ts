import { existsSync } from 'node:fs';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';

const EXECUTABLE = '/usr/bin/chromium';

export async function launch(): Promise<Browser> {
  if (!existsSync(EXECUTABLE))
    throw new Error(`Browser tests need Chromium at ${EXECUTABLE} (Debian: apt-get install chromium)`);
  return chromium.launch({
    executablePath: EXECUTABLE,
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
    // A worker has no listener of its own here; the browser reports its violations on the console.
    if (/content security policy/i.test(message.text())) violations.push(message.text());
    else if (message.type() === 'error') errors.push(message.text());
  });
  return { context, page, foreign, violations, errors };
}

/** Wait until the answer of the present plan stands and nothing is being worked on. */
export async function settled(page: Page): Promise<void> {
  await page.locator('[data-settled="true"].answer').waitFor({ timeout: 90_000 });
}
