import type { LampEdge } from './board-home.js';
import { remember } from './remembered.js';
import type { Timeline } from './timeline.js';

interface LampEvents {
  edge(edge: LampEdge): void;
  /** The lamp went off after so long; told before anything else happens. */
  ended(onUs: number): void;
}

/** The relay and the alarm that switches it off to the microsecond, whatever the core is doing. */
export class LampRelay {
  /** The latest, oldest first. */
  readonly edges: LampEdge[] = [];
  readonly #timeline: Timeline;
  readonly #events: LampEvents;
  #sinceUs: number | undefined;
  #cancelAlarm = () => {};

  constructor(timeline: Timeline, events: LampEvents) {
    this.#timeline = timeline;
    this.#events = events;
  }

  get on(): boolean {
    return this.#sinceUs !== undefined;
  }

  /** Lamp on for `onUs`; one that is on already stays as it is. */
  lightFor(onUs: number): void {
    if (this.on) return;
    this.#sinceUs = this.#timeline.nowUs;
    this.#edge(true);
    this.#cancelAlarm = this.#timeline.at(this.#timeline.nowUs + onUs, () => this.switchOff());
  }

  /** Harmless when it is off. */
  switchOff(): void {
    if (this.#sinceUs === undefined) return;
    const onUs = this.#timeline.nowUs - this.#sinceUs;
    this.#sinceUs = undefined;
    this.#cancelAlarm();
    this.#edge(false);
    this.#events.ended(onUs);
  }

  #edge(on: boolean): void {
    const edge = { atUs: this.#timeline.nowUs, on };
    remember(this.edges, edge);
    this.#events.edge(edge);
  }
}
