import { describe, expect, test } from 'vitest';
import { ProbeBoard } from '../firmware/board/rig/probe-board.js';
import { boardTestsRun } from '../firmware/board/rig/requirements.js';
import type { Work } from '../firmware/board/rig/usb/host.js';
import { UsbTransfers } from './usb-transfers.js';
import { failure, type Submission } from './usbip-packets.js';

const FOUND_US = 50_000;
const DONE_US = 20_000;
const DATA = 2;

interface Ending {
  readonly status: number;
  readonly text: string;
  readonly sentBytes: number;
}

/** A kernel at the board's cable that has found it and set it up. */
class Kernel {
  readonly board = new ProbeBoard();
  readonly transfers = new UsbTransfers(this.board.usbCable.host);
  readonly #ended = new Map<number, Ending>();
  #number = 0;

  constructor() {
    this.board.usbCable.plugInto({ came: () => {}, went: () => this.transfers.forget() });
    this.board.usbCable.host.begin(this.#reset());
    this.board.advanceUs(FOUND_US);
    this.ask([0x00, 9, 1, 0, 0, 0, 0, 0]);
  }

  /** Begins a transfer, and gives its number. */
  submit(given: Partial<Submission>): number {
    const number = ++this.#number;
    const submission: Submission = {
      kind: 'submit',
      number,
      isIn: false,
      endpoint: 0,
      lengthBytes: 64,
      endsWithEmpty: false,
      setup: new Uint8Array(8),
      data: new Uint8Array(0),
      ...given,
    };
    this.transfers.submit(submission, (status, data, sentBytes) =>
      this.#ended.set(number, { status, text: Buffer.from(data).toString('latin1'), sentBytes }),
    );
    return number;
  }

  /** How a transfer has ended by now, or nothing. */
  ending(number: number): Ending | undefined {
    this.board.advanceUs(DONE_US);
    return this.#ended.get(number);
  }

  /** A request to the device, carried out. */
  ask(setup: readonly number[]): Ending | undefined {
    return this.ending(this.submit({ isIn: (setup[0]! & 0x80) !== 0, setup: Uint8Array.from(setup) }));
  }

  *#reset(): Work<void> {
    yield* this.board.usbCable.host.resetBus();
  }
}

describe.runIf(boardTestsRun)('the transfers of a far kernel', () => {
  test('bring what the board says, and wait as long as it says nothing', () => {
    const kernel = new Kernel();
    const read = kernel.submit({ isIn: true, endpoint: DATA });
    expect(kernel.ending(read)).toBeUndefined();
    const written = kernel.submit({ endpoint: DATA, data: Buffer.from('I') });
    expect(kernel.ending(written)).toEqual({ status: 0, text: '', sentBytes: 1 });
    expect(kernel.ending(read)).toMatchObject({ status: 0, text: expect.stringMatching(/^I /) });
    expect(kernel.board.mistakes).toEqual([]);
  });

  test('are taken back while they wait, and the next one gets what comes then', () => {
    const kernel = new Kernel();
    const first = kernel.submit({ isIn: true, endpoint: DATA });
    const second = kernel.submit({ isIn: true, endpoint: DATA });
    expect(kernel.transfers.takeBack(first)).toBe(true);
    expect(kernel.transfers.takeBack(first)).toBe(false);
    kernel.submit({ endpoint: DATA, data: Buffer.from('I') });
    expect(kernel.ending(second)?.text).toMatch(/^I /);
    expect(kernel.ending(first)).toBeUndefined();
    expect(kernel.transfers.takeBack(second)).toBe(false);
  });

  test('end as stalled where the board refuses, and a halted endpoint works again once that is cleared', () => {
    const kernel = new Kernel();
    expect(kernel.ask([0x80, 6, 0, 9, 0, 0, 8, 0])?.status).toBe(failure.stalled);
    expect(kernel.ask([0x02, 3, 0, 0, DATA, 0, 0, 0])?.status).toBe(0);
    const refused = kernel.submit({ endpoint: DATA, data: Buffer.from('I') });
    expect(kernel.ending(refused)?.status).toBe(failure.stalled);
    expect(kernel.ask([0x02, 1, 0, 0, DATA, 0, 0, 0])?.status).toBe(0);
    const taken = kernel.submit({ endpoint: DATA, data: Buffer.from('I') });
    expect(kernel.ending(taken)?.status).toBe(0);
    expect(kernel.ending(kernel.submit({ isIn: true, endpoint: DATA }))?.text).toMatch(/^I /);
    expect(kernel.board.mistakes).toEqual([]);
  });
});
