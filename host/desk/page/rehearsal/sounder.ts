import { signal } from '@preact/signals';

/** A click of the loudspeaker is avoided by this ramp. */
const RAMP_SECONDS = 0.004;
/** At full volume a page is louder than the board's small sounder. */
const LOUDEST = 0.25;

/** The board's sounder as the page has it. A browser lets a page be heard only after something was done in it. */
export class Sounder {
  readonly on = signal(true);
  #playing:
    | { readonly context: AudioContext; readonly tone: OscillatorNode; readonly volume: GainNode }
    | undefined;
  #hz = 0;
  #volumePercent = 0;

  /** Something was done in the page: from now on it may be heard. */
  allow(): void {
    if (this.#playing !== undefined) return;
    const context = new AudioContext();
    const tone = new OscillatorNode(context, { type: 'square' });
    const volume = new GainNode(context, { gain: 0 });
    tone.connect(volume).connect(context.destination);
    tone.start();
    this.#playing = { context, tone, volume };
    this.#play();
  }

  turn(on: boolean): void {
    this.on.value = on;
    this.#play();
  }

  /** A tone until the next one; 0 is silence. */
  sound(hz: number, volumePercent: number): void {
    this.#hz = hz;
    this.#volumePercent = volumePercent;
    this.#play();
  }

  #play(): void {
    if (this.#playing === undefined) return;
    const { context, tone, volume } = this.#playing;
    const heard = this.on.value && this.#hz > 0;
    if (heard) tone.frequency.setValueAtTime(this.#hz, context.currentTime);
    const gain = heard ? (LOUDEST * this.#volumePercent) / 100 : 0;
    volume.gain.setTargetAtTime(gain, context.currentTime, RAMP_SECONDS);
  }
}
