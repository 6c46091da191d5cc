import { MountedDrive } from '../../firmware/board/rig/boot-drive.js';
import { NorFlash } from '../../firmware/board/rig/nor-flash.js';
import type { BoardAtAPort } from './board-at-a-port.js';

const LOOK_MS = 20;

/** What the hand does when the panel asks; the drive that comes of it, and the start when it has its image. */
export class PrinterAndDrive {
  readonly desk: BoardAtAPort;
  readonly flash = new NorFlash();
  readonly #looking: NodeJS.Timeout;
  #drive: MountedDrive | undefined;
  times = 0;

  constructor(desk: BoardAtAPort, hand: (desk: BoardAtAPort) => void) {
    this.desk = desk;
    desk.board.on('panel', (row, text) => {
      if (row === 1 && text.startsWith('New firmware?')) setImmediate(() => hand(desk));
    });
    desk.board.on('left', () => this.plugIn());
    this.#looking = setInterval(() => this.#look(), LOOK_MS);
  }

  get folder(): string {
    return this.desk.file('RPI-RP2');
  }

  /** The board as a drive. */
  plugIn(): void {
    this.#drive = new MountedDrive(this.flash, this.folder);
  }

  #look(): void {
    if (this.#drive?.look() !== true) return;
    this.#drive.goAway();
    this.#drive = undefined;
    this.times++;
    this.desk.board.startNewFirmware();
  }

  close(): void {
    clearInterval(this.#looking);
  }
}
