import type { Command } from 'commander';

/** A process carries out one command; other programs that find a port busy are told which. */
let running = 'treadle';

export function noteCommand(command: Command): void {
  running = `treadle ${command.name()}`;
}

export function runningCommand(): string {
  return running;
}
