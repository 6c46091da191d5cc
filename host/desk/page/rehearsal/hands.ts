import type { Rehearsal } from './rehearsal.js';

/** As far as a wheel goes for one click of the knob, in pixels: a notch of a mouse is about 100. */
const WHEEL_CLICK_PIXELS = 60;
const LINE_PIXELS = 30;

const turns: Readonly<Record<string, number>> = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1 };

/** Foot and hand: what the keys and the wheel do at the board. Each goes down and comes up when the finger does. */
export class Hands {
  readonly #rehearsal: Rehearsal;
  #wheelPixels = 0;

  constructor(rehearsal: Rehearsal) {
    this.#rehearsal = rehearsal;
  }

  /** Listens from now on; calling the answer ends it. */
  listen(): () => void {
    const end = new AbortController();
    const { signal } = end;
    window.addEventListener('keydown', (event) => this.#keyDown(event), { signal });
    window.addEventListener('keyup', (event) => this.#keyUp(event), { signal });
    // A key that comes up over another window is never told of.
    window.addEventListener('blur', () => this.#letGo(), { signal });
    return () => end.abort();
  }

  pedal(down: boolean): void {
    this.#rehearsal.sounder.allow();
    this.#rehearsal.pedal(down);
  }

  push(down: boolean): void {
    this.#rehearsal.sounder.allow();
    this.#rehearsal.knobPush(down);
  }

  turn(clicks: number): void {
    this.#rehearsal.sounder.allow();
    this.#rehearsal.knobClicks.value += clicks;
    this.#rehearsal.board.knobTurn(clicks);
  }

  /** A wheel away from you turns the knob clockwise; with Ctrl it is the browser's, for larger letters. */
  wheel(event: WheelEvent): void {
    if (event.ctrlKey) return;
    event.preventDefault();
    this.#wheelPixels -=
      event.deltaMode === WheelEvent.DOM_DELTA_PIXEL ? event.deltaY : event.deltaY * LINE_PIXELS;
    const clicks = Math.trunc(this.#wheelPixels / WHEEL_CLICK_PIXELS);
    this.#wheelPixels -= clicks * WHEEL_CLICK_PIXELS;
    for (let click = 0; click < Math.abs(clicks); click++) this.turn(Math.sign(clicks));
  }

  #keyDown(event: KeyboardEvent): void {
    if (event.key === 'Escape' && document.activeElement instanceof HTMLElement)
      document.activeElement.blur();
    if (belongsElsewhere(event)) return;
    const clicks = turns[event.key];
    if (clicks !== undefined) this.turn(clicks);
    else if (event.key === ' ') event.repeat || this.pedal(true);
    else if (event.key === 'Enter') event.repeat || this.push(true);
    else return;
    event.preventDefault();
  }

  #keyUp(event: KeyboardEvent): void {
    if (event.key === ' ' && this.#rehearsal.pedalDown.value) this.pedal(false);
    else if (event.key === 'Enter' && this.#rehearsal.knobDown.value) this.push(false);
    else return;
    event.preventDefault();
  }

  #letGo(): void {
    if (this.#rehearsal.pedalDown.value) this.pedal(false);
    if (this.#rehearsal.knobDown.value) this.push(false);
  }
}

/** Keys with others beside them are the browser's, those on a control the control's; what opened this view has done its part. */
function belongsElsewhere({ target, ctrlKey, altKey, metaKey }: KeyboardEvent): boolean {
  if (ctrlKey || altKey || metaKey) return true;
  return (
    target instanceof Element &&
    target.closest('input, select, textarea, a, button:not(.contact, [aria-current])') !== null
  );
}
