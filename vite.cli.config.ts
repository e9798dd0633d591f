import { defineConfig } from 'vite';

/** The command line: one file for Node, nothing beside it needed at run time. */
export default defineConfig({
  publicDir: false,
  ssr: { noExternal: true },
  build: {
    ssr: 'src/cli/main.ts',
    outDir: 'dist/cli',
    target: 'node20',
    minify: false,
    emptyOutDir: true,
  },
});
