import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Files of a minute and more: begun last, they would keep one worker busy while the others have nothing left. */
const long = /\/tests\/proof\/(world|exploration)\//;

class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const isLong = ({ moduleId }: TestSpecification) => long.test(moduleId);
    return [...sorted.filter(isLong), ...sorted.filter((file) => !isLong(file))];
  }
}

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/setup/own-records.ts'],
    globalSetup: [
      'tests/setup/fresh-build.ts',
      'tests/setup/board-tools.ts',
      'tests/setup/page-tools.ts',
      'tests/setup/guest-not-run.ts',
    ],
    sequence: { sequencer: LongestFirst },
    // The package is what Node takes it for, and is read once in a process.
    server: { deps: { external: [/\/dist\/library\//] } },
    // More workers than cores: many tests wait for a terminal, a browser or a program, and a core waited with them.
    maxWorkers: '150%',
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
