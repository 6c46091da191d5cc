import { appendFileSync, writeFileSync } from 'node:fs';

/** What was done in the guest and what it said, as it happens: on this terminal and in a file. */
export class Transcript {
  readonly file: string;
  readonly #startMs = performance.now();

  constructor(file: string) {
    this.file = file;
    writeFileSync(file, '');
  }

  get seconds(): number {
    return (performance.now() - this.#startMs) / 1000;
  }

  /** Something that happened, with the time since the start. */
  tell(words: string): void {
    this.#write(`[${this.seconds.toFixed(1).padStart(5)} s] ${words}`);
  }

  /** What somebody would see on the guest's screen. */
  show(text: string): void {
    if (text.trim() !== '') this.#write(text.trimEnd().replace(/^/gm, '  '));
  }

  #write(text: string): void {
    console.log(text);
    appendFileSync(this.file, `${text}\n`);
  }
}
