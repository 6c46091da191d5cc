import type { Duplex } from 'node:stream';
import { EmulatedBoard } from './emulated-board.js';
import { buildImageOf, type Image } from './image.js';
import type { NorFlash } from './nor-flash.js';

/** Long enough for the firmware to start and for the display to be set up. */
const START_US = 120_000;
/** A line of a few bytes there, and what the probe says back. */
const ANSWER_US = 20_000;

export function probeImage(): Image {
  return buildImageOf('tests/firmware/board/probe-core.as.ts', 'image-probe');
}

/** What the probe said: a letter, a number, the core's time. */
export interface Said {
  readonly letter: string;
  readonly number: number;
  readonly atUs: number;
}

/** An emulated board around the probe core, and a cable to talk to it. */
export class ProbeBoard extends EmulatedBoard {
  readonly port: Duplex;

  constructor(options: { readonly flash?: NorFlash; readonly image?: Image } = {}) {
    super({ image: probeImage(), ...options });
    this.port = this.plug();
    this.advanceUs(START_US);
    this.heard();
  }

  /** Sends commands and lets them happen; what the probe said meanwhile comes back. */
  tell(commands: string, us = ANSWER_US): Said[] {
    this.port.write(commands);
    this.advanceUs(us);
    return this.heard();
  }

  /** What the probe said since the last call. */
  heard(): Said[] {
    const text = String(this.port.read() ?? '');
    return [...text.matchAll(/^(\S) (-?\d+) (\d+)$/gm)].map(([, letter, number, atUs]) => ({
      letter: letter!,
      number: Number(number),
      atUs: Number(atUs),
    }));
  }

  /** Presses the pedal for `us`, and gives how long the lamp was on since, edge by edge. */
  pressFor(us: number): void {
    this.pedal(true);
    this.advanceUs(us);
    this.pedal(false);
  }
}

/** The lengths of the light in a list of edges. */
export function lightsUs(edges: readonly { atUs: number; on: boolean }[]): number[] {
  const lights: number[] = [];
  for (const [index, edge] of edges.entries()) {
    const before = edges[index - 1];
    if (!edge.on && before?.on) lights.push(edge.atUs - before.atUs);
  }
  return lights;
}
