import type { Command } from 'commander';
import { examples, jsonOption } from '../options.js';
import { runSimulator } from '../simulator/run-simulator.js';

export function define(command: Command): void {
  command
    .option('--pty', 'offer it as a serial port, and print the device to give to --port')
    .option('--speed <factor>', 'let its time pass so many times as fast', '1')
    .option('--storage <file>', 'the file that is its flash; left out, it forgets everything at the end')
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle sim --pty --storage board.flash', 'treadle sim --speed 10'))
    .action(runSimulator);
}
