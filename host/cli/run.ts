import { CommanderError } from 'commander';
import { commandGroups } from './command-list.js';
import { ExitCode } from './exit-code.js';
import { programFor } from './program.js';
import { endWhenOutputFails } from './terminal/output-errors.js';

/**
 * Runs one command line (without `node` and the script's name) to its end.
 * @returns the exit code: 0, 2 for wrong use or bad input, 3 for no board or a lost one, 1 for the rest.
 */
export async function run(words: readonly string[]): Promise<number> {
  endWhenOutputFails();
  try {
    const program = await programFor(words);
    await program.parseAsync(withoutHelpOfNothing(words), { from: 'user' });
    return Number(process.exitCode ?? ExitCode.done);
  } catch (error) {
    // The parser of the command line has said its words already.
    if (error instanceof CommanderError) return error.exitCode === 0 ? ExitCode.done : ExitCode.wrongUse;
    // Loaded only now: with the errors comes the whole message schema, and help must not wait for it.
    const { explain } = await import('./failure.js');
    const { text, exitCode } = explain(error);
    process.stderr.write(`${text}\n`);
    return exitCode;
  }
}

/** Of a command that there is not nothing is shown that could be taken for its help: it is called unknown instead. */
function withoutHelpOfNothing(words: readonly string[]): readonly string[] {
  const [first = ''] = words;
  const isKnown = commandGroups.some(({ commands }) => commands.some(({ name }) => name === first));
  if (isKnown || first === '' || first === 'help' || first.startsWith('-')) return words;
  return words.filter((word) => word !== '--help' && word !== '-h');
}
