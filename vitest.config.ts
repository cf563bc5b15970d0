import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    setupFiles: ['test/setup.ts'],
    // The outside checks start other programs, and these take their time on a busy machine.
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
