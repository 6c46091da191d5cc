import { vi } from 'vitest';
import { run } from '../../../host/cli/run.js';
import type { Ran } from './treadle.js';

/** Runs `treadle` with these words in the test's own process: for commands that neither wait nor end it, and far quicker. */
export async function treadleHere(words: readonly string[]): Promise<Ran> {
  let [out, err] = ['', ''];
  const spies = [
    vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
      out += text;
      return true;
    }),
    vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
      err += text;
      return true;
    }),
  ];
  try {
    return { code: await run(words), out, err };
  } finally {
    for (const spy of spies) spy.mockRestore();
    process.exitCode = undefined;
  }
}
