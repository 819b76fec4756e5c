import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'unit',
          include: [
            'packages/*/src/**/*.test.{ts,tsx}',
            'packages/calculation/{laws,reference}/**/*.test.ts',
            'packages/plant/simulation/*.test.ts',
            'packages/plant/replay/**/*.test.ts',
            'checks/**/*.test.ts',
          ],
          testTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'faults',
          include: ['packages/plant/simulation/faults/**/*.test.ts'],
          testTimeout: 240_000,
          hookTimeout: 120_000,
        },
      },
      {
        test: {
          name: 'browser',
          include: ['packages/plant/browser/**/*.test.ts'],
          testTimeout: 300_000,
          hookTimeout: 240_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
