import { defineConfig } from 'vitest/config'

/**
 * Three suites of one run: `unit` beside the code, `whole` for tests that start processes or servers, `e2e` in a real
 * browser. The last one runs one file at a time, since software drawing takes every core there is, and tries a failed
 * test once more, since a machine can press a key a frame before the window is ready for it; `npm test` lists every test
 * that needed it, with what it first said.
 */
export default defineConfig({
  test: {
    restoreMocks: true,
    projects: [
      {
        test: {
          name: 'unit',
          include: ['core/**/*.test.ts', 'app/**/*.test.{ts,tsx}', 'assets/**/*.test.ts', 'bin/**/*.test.ts'],
          testTimeout: 30_000,
        },
      },
      {
        test: {
          name: 'whole',
          include: ['test/**/*.test.ts'],
          exclude: ['test/e2e/**'],
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      {
        test: {
          name: 'e2e',
          include: ['test/e2e/**/*.test.ts'],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          fileParallelism: false,
          retry: 1,
        },
      },
    ],
  },
})
