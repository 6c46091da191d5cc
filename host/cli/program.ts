import { Command } from 'commander';
import { version } from '../../shared-protocol/generated/versions.js';
import { commandGroups } from './command-list.js';
import { refuseEmptyWords } from './refuse-empty-words.js';
import { noteCommand } from './running-command.js';

const DESCRIPTION = `Plans prints and test strips, sends them to the board under the enlarger, and keeps a record of every exposure.
Write times as 12.5s or 120ms, stops as +1/3, -1/2, 1 1/4 or 0.5.`;

const AFTER = `
Examples:
  $ treadle strip --first 5s --step 1/2 --patches 5
  $ treadle help strip

Exit codes: 0 done; 2 wrong use or bad input; 3 no board, or it went away; 1 anything else.
Set NO_COLOR=1 for output without colour.`;

/** The command line as far as these words need it: every command's name, and all of the one they ask for. */
export async function programFor(words: readonly string[]): Promise<Command> {
  const treadle = new Command('treadle')
    .description(DESCRIPTION)
    .version(version, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .addHelpText('after', AFTER)
    .showHelpAfterError('(add --help to see how it is used)')
    .configureOutput({ outputError: (text, write) => write(text.replace(/^error: /, 'treadle: ')) })
    .exitOverride()
    .hook('preAction', (_, command) => {
      refuseEmptyWords(command);
      noteCommand(command);
    });
  const wanted = commandNamedIn(words);
  for (const { heading, commands } of commandGroups) {
    treadle.commandsGroup(heading);
    for (const { name, summary, load } of commands) {
      const command = treadle.command(name).description(summary);
      if (name === wanted) (await load()).define(command);
    }
  }
  return treadle.commandsGroup('Help:').helpCommand('help [command]', 'print the help of a command');
}

function commandNamedIn(words: readonly string[]): string | undefined {
  const [first, second] = words.filter((word) => !word.startsWith('-'));
  return first === 'help' ? second : first;
}
