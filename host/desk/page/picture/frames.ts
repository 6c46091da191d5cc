import { signal } from '@preact/signals';
import type { Making } from './making.js';
import type { Colours, Frame } from './print-maker.js';

/** After so long without a change the picture is made in full size. */
const STILL_MS = 150;

/** The pictures of one canvas: always of what was asked for last, whatever came between. */
export class Frames {
  /** Why there is no picture of what was asked for last; empty where there is one. */
  readonly refusal = signal('');
  readonly #making: Making;
  readonly #draw: (colours: Colours) => void;
  #wanted: Frame | undefined;
  #atWork = false;
  #buffer: ArrayBuffer | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(making: Making, draw: (colours: Colours) => void) {
    this.#making = making;
    this.#draw = draw;
  }

  /** At once in the size for turning, and in full when nothing more comes. */
  want(frame: Omit<Frame, 'size'>): void {
    this.#want({ ...frame, size: 'live' });
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#want({ ...frame, size: 'full' }), STILL_MS);
  }

  #want(frame: Frame): void {
    this.#wanted = frame;
    if (!this.#atWork) void this.#work();
  }

  async #work(): Promise<void> {
    this.#atWork = true;
    for (let frame = this.#wanted; frame !== undefined; frame = this.#wanted) {
      this.#wanted = undefined;
      await this.#make(frame);
    }
    this.#atWork = false;
  }

  async #make(frame: Frame): Promise<void> {
    const buffer = this.#buffer;
    this.#buffer = undefined;
    try {
      const colours = await this.#making.picture(frame, buffer);
      this.#draw(colours);
      this.#buffer = colours.buffer;
      this.refusal.value = '';
    } catch (error) {
      this.refusal.value = (error as Error).message;
    }
  }
}

/** Puts a picture on its canvas. */
export function drawOn(canvas: HTMLCanvasElement, { width, height, buffer }: Colours): void {
  if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
  // Nothing but whole pictures go onto it: kept where the page's own memory is.
  const context = canvas.getContext('2d', { willReadFrequently: true })!;
  context.putImageData(new ImageData(new Uint8ClampedArray(buffer), width, height), 0, 0);
}
