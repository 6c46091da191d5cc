import assert from 'node:assert/strict';
import type { Machine } from './machine.js';
import type { PacedBoard } from './paced-board.js';
import type { Transcript } from './transcript.js';
import type { UsbIpServer } from './usbip-server.js';

/** Where the first board is that is plugged in. */
export const PORT = '/dev/ttyACM0';
const NO_BOARD = 3;
const TRIES = 4;
const SLOW_MS = 100;

/** All that a story needs: the board on its cable, the laptop, and where it is written down. */
export class Laptop {
  readonly board: PacedBoard;
  readonly cable: UsbIpServer;
  readonly #machine: Machine;
  readonly #transcript: Transcript;

  constructor(board: PacedBoard, cable: UsbIpServer, machine: Machine, transcript: Transcript) {
    this.board = board;
    this.cable = cable;
    this.#machine = machine;
    this.#transcript = transcript;
  }

  tell(words: string): void {
    this.#transcript.tell(words);
  }

  /**
   * Runs a command that must end well, and gives what it said. Where the board seemed not to be there and this computer had no
   * time for its chip meanwhile, that says nothing about either, and the command is given again.
   */
  async run(command: string): Promise<string> {
    let lostMs = this.board.lostMs;
    let { text, exitCode } = await this.attempt(command);
    for (let tries = 1; tries < TRIES && exitCode === NO_BOARD; tries++) {
      if (this.board.lostMs - lostMs < SLOW_MS) break;
      this.tell(`this computer was too slow, by ${Math.round(this.board.lostMs - lostMs)} ms; once more`);
      lostMs = this.board.lostMs;
      ({ text, exitCode } = await this.attempt(command));
    }
    assert.equal(exitCode, 0, `'${command}' ended with ${exitCode}`);
    return text;
  }

  async attempt(command: string): Promise<{ readonly text: string; readonly exitCode: number }> {
    this.tell(`$ ${command}`);
    const said = await this.#machine.run(command);
    this.#transcript.show(said.text);
    return said;
  }

  /** The same without a word in the transcript, for what nobody would type. */
  async quietly(command: string): Promise<string> {
    const { text, exitCode } = await this.#machine.run(command);
    assert.equal(exitCode, 0, `'${command}' ended with ${exitCode}: ${text}`);
    return text;
  }

  /** Nothing that a real chip or a strict host would not forgive, and no reset of its own. */
  refuseMistakes(): void {
    assert.deepEqual(this.board.board.mistakes, []);
    assert.deepEqual(this.board.board.watchdogResets, []);
  }

  /** What the kernel says of USB, so far. */
  get kernelWords(): string[] {
    return this.kernelWordsOf(/\b(usb 1-1|cdc_acm)\b/);
  }

  kernelWordsOf(what: RegExp): string[] {
    const words = this.#machine.console.split('\n').filter((line) => what.test(line));
    return words.map((line) => line.replace(/^\[[\d. ]+\] /, ''));
  }
}
