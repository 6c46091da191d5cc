import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Files of a minute and more: begun last, they would keep one worker busy while the others have nothing left. */
const long = /\/tests\/proof\/(world|exploration)\//;

/**
 * These go on one after another in the same few processes, which have read the library already and are warm: 0.8 s of a
 * core saved for each file. So a file among them takes back what it changes of its process. Every other begins in one of
 * its own.
 */
const together = [
  'tests/firmware/core/**/*.test.ts',
  'tests/firmware/build/**/*.test.ts',
  'tests/hardware-notes/**/*.test.ts',
  'tests/host/{core,daylight,files,pages,recipe}/**/*.test.ts',
  'tests/shared-protocol/**/*.test.ts',
];

class LongestFirst extends BaseSequencer {
  /** Those that share processes come last, one after another: a process ends when another kind follows. */
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId, project }: TestSpecification) =>
      long.test(moduleId) ? 0 : project.config.isolate ? 1 : 2;
    const sorted = await super.sort(files);
    return sorted.toSorted((one, other) => place(one) - place(other));
  }
}

const everywhere = {
  setupFiles: ['tests/setup/own-records.ts'],
  // The package is what Node takes it for, and is read once in a process.
  server: { deps: { external: [/\/dist\/library\//] } },
  // Only what hangs takes so long, however much else the machine does; what is waited for in a page ends before, with its own words.
  testTimeout: 180_000,
  hookTimeout: 180_000,
  expect: { poll: { timeout: 60_000 } },
};

export default defineConfig({
  test: {
    globalSetup: [
      'tests/setup/fresh-build.ts',
      'tests/setup/board-tools.ts',
      'tests/setup/page-tools.ts',
      'tests/setup/guest-not-run.ts',
    ],
    sequence: { sequencer: LongestFirst },
    // More workers than cores: many tests wait for a terminal, a browser or a program, and a core waited with them.
    maxWorkers: '150%',
    projects: [
      { test: { ...everywhere, name: 'apart', include: ['tests/**/*.test.ts'], exclude: together } },
      { test: { ...everywhere, name: 'together', include: together, isolate: false } },
    ],
  },
});
