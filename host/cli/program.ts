import { Command } from 'commander';
import { version } from '../../shared-protocol/project.js';
import { addSim } from './commands/sim.js';

const DESCRIPTION = `Works out, sends and keeps what the pedal under the enlarger does.
Times are written 12.5s or 120ms, stops +1/3, -1/2, 1 1/4 or 0.5.`;

const AFTER = `
Examples:
  $ treadle strip --first 5s --step 1/2 --patches 5
  $ treadle help strip

Exit codes: 0 done; 2 wrong use or bad input; 3 no board, or it went away; 1 anything else.
NO_COLOR=1 leaves out all colour.`;

/**
 * The whole command line. A command's file is its definition; what it needs to do its work is loaded when it
 * is run and not before, so that help and mistakes answer at once.
 */
export function program(): Command {
  const treadle = new Command('treadle')
    .description(DESCRIPTION)
    .version(version, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .addHelpText('after', AFTER)
    .showHelpAfterError('(add --help to see how it is used)')
    .exitOverride();
  treadle.commandsGroup('The board:');
  addSim(treadle);
  return treadle;
}
