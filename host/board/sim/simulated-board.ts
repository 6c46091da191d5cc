import { createHash } from 'node:crypto';
import type { Duplex } from 'node:stream';
import type { BoardHome } from './board-home.js';
import { plugStream } from './cable-stream.js';
import { CoreBoard, type CoreBoardOptions } from './core-board.js';
import { Flash } from './flash.js';

export interface SimulatedBoardOptions extends CoreBoardOptions {
  /** The file that holds the board's flash; without one everything is forgotten with the process. */
  readonly file?: string;
  /** A flash of your own instead, for faults on purpose. */
  readonly flash?: Flash;
  /** 16 hexadecimal digits; without it a fixed one, or one derived from the file's name. */
  readonly boardId?: string;
}

/** The board made of the very core, on a computer: its flash in a file, its serial line a stream. */
export class SimulatedBoard extends CoreBoard implements BoardHome {
  declare readonly flash: Flash;

  constructor({ file, ...options }: SimulatedBoardOptions = {}) {
    const flash = options.flash ?? new Flash(file === undefined ? {} : { file });
    super({ ...(file !== undefined && { boardId: identityFor(file) }), ...options, flash });
  }

  plug(): Duplex {
    return plugStream(this.line);
  }
}

function identityFor(file: string): string {
  return createHash('sha256').update(file).digest('hex').slice(0, 16);
}
