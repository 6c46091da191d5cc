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
    await program.parseAsync(withNegativeValues(withoutHelpOfNothing(words)), { from: 'user' });
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

/**
 * '-5ms' and '-1/3' are values and no options, of which none begins with a digit: their minus is a typographer's from here on,
 * which whoever reads a time or stops takes as well. What follows an option is its value already.
 */
function withNegativeValues(words: readonly string[]): readonly string[] {
  const end = words.indexOf('--');
  return words.map((word, at) => {
    const isAfterOption = at > 0 && words[at - 1]!.startsWith('-');
    const isLeftAlone = isAfterOption || (end !== -1 && at > end) || PLAIN_NUMBER.test(word);
    return isLeftAlone ? word : word.replace(/^-(?=[\d.])/, '\u2212');
  });
}

/** Which the parser of the command line takes for a value by itself. */
const PLAIN_NUMBER = /^-(\d+|\d*\.\d+)$/;
