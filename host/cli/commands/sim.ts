import type { Command } from 'commander';
import { examples, jsonOption } from '../options.js';

interface SimOptions {
  readonly pty?: true;
  readonly speed: string;
  readonly storage?: string;
  readonly json?: true;
}

export function addSim(program: Command): void {
  program
    .command('sim')
    .description('a simulated board in this terminal: its panel, its lamp, and keys for pedal and knob')
    .option('--pty', 'offer it as a serial port, and print the device to give to --port')
    .option('--speed <factor>', 'let its time pass so many times as fast', '1')
    .option('--storage <file>', "the file that is its flash; left out, it forgets everything at the end")
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle sim --pty --storage board.flash', 'treadle sim --speed 10'))
    .action(sim);
}

async function sim(options: SimOptions): Promise<void> {
  const { runSimulator } = await import('../simulator/run-simulator.js');
  await runSimulator(options);
}
