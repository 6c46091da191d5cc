import { spawnSync } from 'node:child_process';
import { closeSync, constants, openSync } from 'node:fs';
import type { Socket } from 'node:net';
import type { Duplex } from 'node:stream';
import { PackageUnavailableError } from '../../errors.js';

/** A pseudo-terminal whose path any program opens as a serial port. */
export interface OfferedPort {
  readonly path: string;
  close(): void;
}

interface PseudoTerminal {
  readonly ptsName: string;
  readonly master: Socket;
  readonly slave: Socket;
}

interface Terminals {
  open(options: { encoding: null }): PseudoTerminal;
}

async function loadTerminals(): Promise<Terminals> {
  try {
    return (await import('@lydell/node-pty')).default as unknown as Terminals;
  } catch (error) {
    throw new PackageUnavailableError('@lydell/node-pty', 'a port of the simulated board', error);
  }
}

/**
 * Offers a board's end of a cable on a pseudo-terminal in raw mode.
 * @throws PackageUnavailableError; Error on Windows, which has none that a program could open as a serial port.
 */
export async function offerPort(cable: Duplex): Promise<OfferedPort> {
  if (process.platform === 'win32')
    throw new Error(
      'Windows has no pseudo-terminals: connect to the simulated board from inside the library',
    );
  const { open } = await loadTerminals();
  const terminal = open({ encoding: null });
  // open() reads from the program's end too: what the board says must wait for the program instead. Yet that end
  // stays open, or the terminal would hang up each time a program lets go of it.
  const held = openSync(terminal.ptsName, constants.O_RDWR | constants.O_NOCTTY);
  terminal.slave.destroy();
  makeRaw(terminal.ptsName);
  cable.pipe(terminal.master).pipe(cable);
  terminal.master.on('error', () => cable.destroy());
  return {
    path: terminal.ptsName,
    close() {
      cable.destroy();
      terminal.master.destroy();
      closeSync(held);
    },
  };
}

/** No echo, no signals, no CR for LF: serial programs set this themselves, a plain `cat` does not. */
function makeRaw(path: string): void {
  const file = process.platform === 'darwin' ? '-f' : '-F';
  spawnSync('stty', [file, path, 'raw', '-echo', '-echoe', '-echok'], { stdio: 'ignore' });
}
