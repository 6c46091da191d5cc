import type { PipePair } from './pipe.js';

/** QEMU's protocol for tests of its devices (docs/devel/testing/qtest.rst): memory and pins, while the machine stands still. */
export class Qtest {
  readonly #pipe: PipePair;
  #come = '';

  constructor(pipe: PipePair) {
    this.#pipe = pipe;
  }

  word(address: number): number {
    return Number(this.#ask(`readl ${hex(address)}`));
  }

  setWord(address: number, value: number): void {
    this.#ask(`writel ${hex(address)} ${hex(value)}`);
  }

  bytes(address: number, length: number): Buffer {
    return Buffer.from(this.#ask(`b64read ${hex(address)} ${hex(length)}`), 'base64');
  }

  setBytes(address: number, bytes: Uint8Array): void {
    const text = Buffer.from(bytes).toString('base64');
    this.#ask(`b64write ${hex(address)} ${hex(bytes.length)} ${text}`);
  }

  setPin(pin: number, high: boolean): void {
    this.#ask(`set_irq_in /machine/nrf51 unnamed-gpio-in ${pin} ${high ? 1 : 0}`);
  }

  #ask(command: string): string {
    this.#pipe.write(`${command}\n`);
    while (!this.#come.includes('\n')) this.#come += this.#pipe.read();
    const end = this.#come.indexOf('\n');
    const answer = this.#come.slice(0, end);
    this.#come = this.#come.slice(end + 1);
    if (!answer.startsWith('OK')) throw new Error(`QEMU answered ${answer} to ${command.slice(0, 60)}`);
    return answer.slice('OK'.length).trim();
  }
}

const hex = (value: number) => `0x${(value >>> 0).toString(16)}`;
