import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig, type Plugin } from 'vite';

const SAMPLES = 'sample-fields';

/** Every data file under the folder; the program that makes them stays behind. */
function dataFiles(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && !/\.(ts|md)$/.test(entry.name))
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/'));
}

/** Copies the sample fields beside the built app, and serves them from where they lie while developing. */
function sampleFields(): Plugin {
  return {
    name: 'sample-fields',
    configureServer(server) {
      server.middlewares.use(`/${SAMPLES}/`, (request, response, next) => {
        const wanted = decodeURIComponent((request.url ?? '').split('?')[0]).replace(/^\//, '');
        if (!dataFiles(SAMPLES).includes(wanted)) return next();
        response.setHeader('content-type', 'application/octet-stream');
        response.end(readFileSync(join(SAMPLES, wanted)));
      });
    },
    generateBundle() {
      for (const file of dataFiles(SAMPLES)) {
        this.emitFile({
          type: 'asset',
          fileName: `${SAMPLES}/${file}`,
          source: readFileSync(join(SAMPLES, file)),
        });
      }
    },
  };
}

/** The development server puts styles and its own socket into the page; only there the policy makes room for them. */
function roomForDevelopment(): Plugin {
  return {
    name: 'room-for-development',
    apply: 'serve',
    transformIndexHtml: (html) =>
      html
        .replace("style-src 'self'", "style-src 'self' 'unsafe-inline'")
        .replace("connect-src 'self'", "connect-src 'self' ws:"),
  };
}

export default defineConfig({
  base: './',
  plugins: [svelte(), sampleFields(), roomForDevelopment()],
  worker: { format: 'es' },
  build: {
    outDir: 'dist/app',
    emptyOutDir: true,
    target: 'es2022',
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 1400,
  },
});
