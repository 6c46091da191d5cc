import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    globalSetup: ['tests/setup/fresh-build.ts', 'tests/setup/board-tools.ts'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
