import type { BoardHome, LampEdge } from '../../../host/board/sim/board-home.js';
import type { Timeline } from '../../../host/board/sim/timeline.js';
import type { Random } from '../../setup/random.js';
import type { LineSetup, WorldLine } from './world-line.js';

/** Eyes on a board that miss nothing. */
export interface Onlooker {
  lamp(edge: LampEdge): void;
  /** The core starts, or has just started. */
  started(): void;
  /** Called just before the power goes or a reset comes, with everything still as it was. */
  breakingOff(): void;
  /** The board has left for new firmware, and that runs. */
  updated(): void;
}

/** Which bits of a flash operation that the power cut into are done: asked for each. */
export type BitDone = () => boolean;

/** Any home of the core as a world has it: what a person does with it, and accidents. */
export interface WorldBoard {
  readonly home: BoardHome;
  /** 16 hexadecimal digits. */
  readonly id: string;
  /** What a pulse of the lamp may be longer or shorter than the board knows. */
  readonly pulseErrorMs: number;
  /** What the board did that no accident explains, in words. */
  readonly complaints: readonly string[];

  watch(onlooker: Onlooker): void;
  /** Plugs in the way to the laptop. */
  lineTo(timeline: Timeline, random: Random, setup: LineSetup): WorldLine;
  /** Somebody pushes the reset button. */
  pushReset(): void;
  /** The processor hangs, and the watchdog notices. */
  hang(): void;
  cutPower(bitDone: BitDone): void;
  /** Cuts the power inside the flash operation that comes after `operations` more, `howFar` (0 to 1) into its time. */
  cutPowerInsideFlash(operations: number, howFar: number, bitDone: BitDone): void;
  /** Power is back; a planned cut that was not reached is called off. */
  restorePower(): void;
  /** From now on nothing can be changed in this sector of the storage region. */
  wearOut(sector: number): void;
  close(): void;
}

/** One of the homes that worlds can have, and how to make such a board on a world's timeline. */
export interface BoardKind {
  readonly name: 'simulated' | 'emulated' | 'usb';
  make(timeline: Timeline, id: string): WorldBoard;
}
