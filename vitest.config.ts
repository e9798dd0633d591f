import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    // Vitest leaves one core free unless told; the tests are the work here.
    maxWorkers: '100%',
    projects: [
      {
        test: {
          name: 'engine',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**', 'tests/bench/**'],
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
