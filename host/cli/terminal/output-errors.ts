import { ExitCode } from '../exit-code.js';

/**
 * What becomes of a command whose output is not taken. `treadle nights | head` closes the pipe early, and that is
 * nobody's mistake; a full disk behind `>` is told. Remarks that nobody can see are no reason to stop.
 */
export function endWhenOutputFails(): void {
  process.stderr.on('error', () => {});
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(ExitCode.done);
    void tellAndEnd(error);
  });
}

/** The words are loaded only when they are needed: help must not wait for them. */
async function tellAndEnd(error: NodeJS.ErrnoException): Promise<never> {
  const { systemTrouble } = await import('../../files/file-access-error.js');
  process.stderr.write(
    `treadle: what was printed could not be written: ${systemTrouble(error)?.say ?? error.message}\n`,
  );
  process.exit(ExitCode.failed);
}
