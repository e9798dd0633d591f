import { join } from 'node:path';
import { build } from 'vite';

/** One of the bench's programs as a single file for Node, as the product's own command line is built; in a folder of its name; gives its path. */
export async function bundle(name: string, into: string): Promise<string> {
  await build({
    configFile: false,
    logLevel: 'error',
    publicDir: false,
    ssr: { noExternal: true },
    build: {
      ssr: join(import.meta.dirname, `${name}.ts`),
      outDir: join(into, name),
      target: 'node20',
      minify: false,
      emptyOutDir: true,
    },
  });
  return join(into, name, `${name}.js`);
}
