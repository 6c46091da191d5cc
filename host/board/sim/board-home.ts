import type { Duplex } from 'node:stream';

/** Why a board started, as the schema's StartCause names it. */
export type ResetCause =
  | 'power'
  | 'reset-pin'
  | 'watchdog'
  | 'trap'
  | 'stack-overflow'
  | 'flash-fault'
  | 'new-firmware';

/** The lamp's relay switched, at a time of the home's clock. */
export interface LampEdge {
  readonly atUs: number;
  readonly on: boolean;
}

export interface ToneChange {
  readonly atUs: number;
  /** 0 is silence. */
  readonly hz: number;
  readonly volumePercent: number;
}

/**
 * A board with everything around it that a person touches, hears and sees, on a clock that goes on only when
 * told. The simulated board and the emulated chip are two of them; the same tests drive both.
 *
 * All times are microseconds since the home was made: a reset or a power cut does not set them back, while the
 * core's own clock starts at 0 with every start.
 */
export interface BoardHome {
  readonly nowUs: number;
  /** Lets this much time go by and does everything due in it, in order. */
  advanceUs(us: number): void;

  /** The board's end of a fresh cable; the one plugged in before is pulled out. */
  plug(): Duplex;

  /** The pedal's contact, exactly as its pin shows it. A pedal that is down at a start is told to the core after `boot`. */
  pedal(down: boolean): void;
  /** The knob's push contact, likewise. */
  knobPush(down: boolean): void;
  /** Clockwise is positive. */
  knobTurn(detents: number): void;

  /** A reset by this cause: lamp off, and the core starts anew. */
  reset(cause: ResetCause): void;
  /** No power: the lamp is off and nothing happens until `restorePower`. */
  cutPower(): void;
  restorePower(): void;

  readonly lampOn: boolean;
  /** The latest edges of the lamp's relay, oldest first. */
  readonly lampEdges: readonly LampEdge[];
  readonly safelightOn: boolean;
  /** The display's four rows, each 20 characters. */
  readonly panel: readonly string[];
  readonly displayLightPercent: number;
  /** The latest changes of the sounder, oldest first. */
  readonly tones: readonly ToneChange[];

  close(): void;
}
