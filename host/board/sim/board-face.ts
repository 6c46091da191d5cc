import { limits } from '../../../shared-protocol/limits.js';
import type { ToneChange } from './board-home.js';
import { remember } from './remembered.js';
import type { Timeline } from './timeline.js';

const BLANK_ROW = ' '.repeat(limits.displayColumns);

interface FaceEvents {
  panel(row: number, text: string): void;
  tone(change: ToneChange): void;
}

/** What of a board is seen and heard, the lamp aside: display, safelight, sounder. */
export class BoardFace {
  readonly panel: string[] = [];
  /** The latest, oldest first. */
  readonly tones: ToneChange[] = [];
  safelightOn = true;
  displayLightPercent = 0;
  readonly #timeline: Timeline;
  readonly #events: FaceEvents;

  constructor(timeline: Timeline, events: FaceEvents) {
    this.#timeline = timeline;
    this.#events = events;
  }

  /** As without power: the safelight's relay falls to on. */
  goBlank(): void {
    this.safelightOn = true;
    this.displayLightPercent = 0;
    for (let row = 0; row < limits.displayRows; row++) this.show(row, BLANK_ROW);
    this.sound(0, 0);
  }

  show(row: number, text: string): void {
    const shown = text.padEnd(limits.displayColumns);
    if (this.panel[row] === shown) return;
    this.panel[row] = shown;
    this.#events.panel(row, shown);
  }

  sound(hz: number, volumePercent: number): void {
    const last = this.tones.at(-1);
    if ((last?.hz ?? 0) === hz && (last?.volumePercent ?? 0) === volumePercent) return;
    const change = { atUs: this.#timeline.nowUs, hz, volumePercent };
    remember(this.tones, change);
    this.#events.tone(change);
  }
}
