import { systemTrouble } from '../../files/file-access-error.js';
import { ExitCode } from '../exit-code.js';

/**
 * What becomes of a command whose output is not taken. `treadle nights | head` closes the pipe early, and that is
 * nobody's mistake; a full disk behind `>` is told. Remarks that nobody can see are no reason to stop.
 */
export function endWhenOutputFails(): void {
  process.stderr.on('error', () => {});
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(ExitCode.done);
    tellAndEnd(error);
  });
}

function tellAndEnd(error: NodeJS.ErrnoException): never {
  process.stderr.write(
    `treadle: what was printed could not be written: ${systemTrouble(error)?.say ?? error.message}\n`,
  );
  process.exit(ExitCode.failed);
}
