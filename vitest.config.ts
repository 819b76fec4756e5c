import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'calculation',
          include: ['packages/calculation/{src,laws,reference}/**/*.test.ts'],
          testTimeout: 60_000,
          // Pure code: nothing of one file can reach another, so that modules are loaded once.
          isolate: false,
          maxWorkers: 2,
        },
      },
      {
        test: {
          name: 'unit',
          include: [
            'packages/plant/src/**/*.test.{ts,tsx}',
            'packages/plant/simulation/{,proving-ground/}*.test.ts',
            'checks/**/*.test.ts',
          ],
          testTimeout: 60_000,
          // No file leaves anything behind in a module, so that modules are loaded once.
          isolate: false,
          maxWorkers: 2,
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
          globalSetup: 'packages/plant/browser/make-demonstration-once.ts',
          // Each file serves a plant of its own to a browser of its own.
          maxWorkers: 2,
        },
      },
    ],
  },
});
