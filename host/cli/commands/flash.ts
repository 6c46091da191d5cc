import type { Command } from 'commander';
import { flashFromCommand } from '../flashing/flash-board.js';
import { archiveOption, examples, jsonOption, portOption, traceOption } from '../options.js';

export function define(command: Command): void {
  command
    .argument('[file]', 'image to write (.uf2); left out, the one that came with this copy of treadle')
    .option('--boot-button', 'ask no board: one waits already, or will, by the button on it')
    .option('--drive <folder>', "the board's drive, where it is not found by itself")
    .option('--older', 'write the image although it is older than what the board has')
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(archiveOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle flash',
        'treadle flash --boot-button',
        'treadle flash treadle.uf2 --drive /mnt/board',
      ),
    )
    .addHelpText('after', HOW)
    .action(flashFromCommand);
}

const HOW = `
The image is looked over and the board's log saved first. Then the board asks for a turn of its knob, becomes a drive,
and comes back with the new version; recipes, settings and log stay on it. Switch the mains box off before.
If it is cut off in the middle, hold the boot button, plug in and run it again with --boot-button.`;
