import type { Command } from 'commander';
import { examples, jsonOption } from '../options.js';
import { runSimulator } from '../simulator/run-simulator.js';

export function define(command: Command): void {
  command
    .option('--pty', 'make it a serial port too, and print its name for --port')
    .option('--speed <factor>', 'run so many times as fast as a real board', '1')
    .option(
      '--storage <file>',
      'file that keeps its recipes, settings and log; without one they are lost at the end',
    )
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle sim --pty --storage board.flash', 'treadle sim --speed 10'))
    .action(runSimulator);
}
