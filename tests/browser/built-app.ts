import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { build } from 'vite';
import { launch } from './chromium.ts';
import { serve } from './serve.ts';

/** The app built from the sources as they stand, served, with a browser to look at it. */
export async function openHouse() {
  const folder = mkdtempSync(join(tmpdir(), 'eachacre-app-'));
  await build({
    configFile: 'vite.config.ts',
    logLevel: 'error',
    build: { outDir: folder, emptyOutDir: true },
  });
  const server = await serve(folder);
  const browser: Browser = await launch();
  return {
    browser,
    server,
    close: async () => {
      await browser.close();
      await server.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export type House = Awaited<ReturnType<typeof openHouse>>;
