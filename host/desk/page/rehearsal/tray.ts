import { signal } from '@preact/signals';
import type { MessageOf } from '../../../../shared-protocol/index.js';
import type { GreyPicture } from '../../../darkroom/picture/grey.js';
import { comeUp, shareComeUp } from './development.js';

/** The sheet in the baths: white at first, it comes up in the developer over the time that the core has for it. */
export class Tray {
  /** The bath that it is in; empty between baths. */
  readonly bath = signal('');
  /** As it would be with all its time; undefined before the first sheet. */
  readonly finished = signal<GreyPicture | undefined>(undefined);
  readonly #developer: string;
  #enteredUs: number | undefined;
  #wholeUs = 1;
  /** Of its time in the developer, what it had before it was last put in. */
  #shareBefore = 0;

  /** @param developer what the row of baths calls its first one. */
  constructor(developer = '') {
    this.#developer = developer;
  }

  /** @param bring answers the sheet from the easel, where one waits there. */
  move(
    { state, label, remainingMs }: MessageOf<'moved'>,
    nowUs: number,
    bring: () => GreyPicture | undefined,
  ) {
    if (state === 'timing' && this.bath.value === label) return;
    this.#lift(nowUs);
    if (state !== 'timing') return;
    const sheet = label === this.#developer ? bring() : undefined;
    if (sheet !== undefined) {
      this.finished.value = sheet;
      this.#shareBefore = 0;
    }
    if (label === this.#developer) this.#enteredUs = nowUs;
    this.#wholeUs = Math.max(1, remainingMs * 1000);
    this.bath.value = label;
  }

  get isComingUp(): boolean {
    return this.bath.value !== '' && this.bath.value === this.#developer;
  }

  /** How the sheet looks now; undefined before the first one. */
  picture(nowUs: number): GreyPicture | undefined {
    const sheet = this.finished.peek();
    return sheet && comeUp(sheet, shareComeUp(this.#share(nowUs)));
  }

  #lift(nowUs: number): void {
    this.#shareBefore = this.#share(nowUs);
    this.#enteredUs = undefined;
    this.bath.value = '';
  }

  #share(nowUs: number): number {
    const inItUs = this.#enteredUs === undefined ? 0 : nowUs - this.#enteredUs;
    return this.#shareBefore + inItUs / this.#wholeUs;
  }
}
