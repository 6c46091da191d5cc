import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ProbeBoard } from '../rig/probe-board.js';
import { boardTestsRun } from '../rig/requirements.js';
import type { Outcome, Request } from '../rig/usb/host.js';

const FOUND_US = 400_000;
/** More than any control transfer takes that nobody damages. */
const TRANSFER_US = 20_000;
const RANDOM_REQUESTS = Number(process.env.TREADLE_USB_REQUESTS ?? 2000);
const SEED = 20270305;

/** A board that a laptop has found; `ask` makes one request of it. */
function atUsb() {
  const board = new ProbeBoard();
  board.usbCable.plug();
  board.advanceUs(FOUND_US);
  const ask = (request: Request): Outcome => {
    let outcome: Outcome | undefined;
    board.usbCable.host.begin(board.usbCable.host.control(request), (result) => {
      outcome = result;
    });
    for (let waited = 0; outcome === undefined && waited < 600_000; waited += 1000) board.advanceUs(1000);
    if (outcome === undefined) throw new Error('the transfer never ended');
    return outcome;
  };
  return { board, ask };
}

const bytesOf = (outcome: Outcome) => (outcome.ended === 'done' ? [...outcome.bytes] : outcome.ended);
const descriptor = (type: number, length: number, index = 0): Request => ({
  type: 0x80,
  request: 6,
  value: (type << 8) | index,
  length,
});

describe.runIf(boardTestsRun)("a laptop's requests over USB", () => {
  // USB 2.0, tables 9-8 and 9-10; PSTN subclass 1.2, table 13.
  test('are answered as the standard has them', () => {
    const { board, ask } = atUsb();
    const device = bytesOf(ask(descriptor(1, 18)));
    expect(device.slice(0, 8)).toEqual([18, 1, 0x00, 0x02, 2, 2, 0, 64]);
    const configuration = bytesOf(ask(descriptor(2, 255)));
    expect(configuration).toHaveLength(67);
    expect(configuration.slice(2, 6)).toEqual([67, 0, 2, 1]);
    expect(bytesOf(ask(descriptor(2, 9)))).toEqual(configuration.slice(0, 9));
    expect(bytesOf(ask(descriptor(3, 255)))).toEqual([4, 3, 9, 4]);
    expect(bytesOf(ask({ type: 0x80, request: 8, length: 1 }))).toEqual([1]);
    expect(bytesOf(ask({ type: 0x80, request: 0, length: 2 }))).toEqual([1, 0]);
    expect(bytesOf(ask({ type: 0x81, request: 10, length: 1 }))).toEqual([0]);
    expect(bytesOf(ask({ type: 0xa1, request: 0x21, length: 7 }))).toEqual([0, 0xc2, 1, 0, 0, 0, 8]);
    const coding = [0x80, 0x25, 0, 0, 2, 1, 7];
    expect(ask({ type: 0x21, request: 0x20, data: Uint8Array.from(coding) }).ended).toBe('done');
    expect(bytesOf(ask({ type: 0xa1, request: 0x21, length: 7 }))).toEqual(coding);
    expect(ask({ type: 0x21, request: 0x23, value: 100 }).ended).toBe('done');
    expect(board.mistakes).toEqual([]);
  });

  test.for<[string, Request]>([
    ['a descriptor that there is not', descriptor(9, 64)],
    ['a text that there is not', descriptor(3, 64, 9)],
    ['a qualifier for high speed', descriptor(6, 10)],
    ['a configuration that there is not', { type: 0, request: 9, value: 2 }],
    ['an address beyond 127', { type: 0, request: 5, value: 128 }],
    ['another setting of an interface', { type: 1, request: 11, value: 1 }],
    ['the halt of an endpoint that there is not', { type: 2, request: 3, index: 0x85 }],
    ['waking the laptop', { type: 0, request: 3, value: 1 }],
    ['a line coding of another length', { type: 0x21, request: 0x20, data: new Uint8Array(8) }],
    ['what a vendor makes up', { type: 0x40, request: 1, value: 0xdead, data: new Uint8Array(200) }],
    ['an answer of a vendor', { type: 0xc0, request: 1, length: 4000 }],
  ])('are refused for %s, and the next is answered', ([_what, request]) => {
    const { board, ask } = atUsb();
    expect(ask(request).ended).toBe('stalled');
    expect(bytesOf(ask(descriptor(1, 18)))).toHaveLength(18);
    expect(board.mistakes).toEqual([]);
  });

  test('halt and release its endpoints, and data goes on', () => {
    const { board, ask } = atUsb();
    const port = board.usbCable.port!;
    for (const endpoint of [0x82, 0x02]) {
      expect(ask({ type: 2, request: 3, index: endpoint }).ended).toBe('done');
      expect(bytesOf(ask({ type: 0x82, request: 0, index: endpoint, length: 2 }))).toEqual([1, 0]);
      expect(ask({ type: 2, request: 1, index: endpoint }).ended).toBe('done');
      board.usbCable.host.forgetParity(endpoint);
      expect(bytesOf(ask({ type: 0x82, request: 0, index: endpoint, length: 2 }))).toEqual([0, 0]);
    }
    port.write('I');
    board.advanceUs(TRANSFER_US);
    expect(String(port.read())).toMatch(/^I /m);
    expect(board.mistakes).toEqual([]);
  });

  test('are forgotten where a new one comes in the middle of one', () => {
    const { board, ask } = atUsb();
    const { host } = board.usbCable;
    for (let transactions = 1; transactions < 6; transactions++) {
      const cut = host.control(descriptor(2, 255));
      host.begin(
        (function* () {
          for (let taken = 0; taken < transactions; taken++) {
            const step = cut.next();
            if (step.done) return;
            yield step.value;
          }
        })(),
      );
      board.advanceUs(TRANSFER_US);
      expect(bytesOf(ask(descriptor(1, 18)))).toHaveLength(18);
    }
    expect(board.mistakes).toEqual([]);
  });

  test(`may be anything: ${RANDOM_REQUESTS} of them light nothing, stop nothing, and the next good one is answered`, () => {
    const { board, ask } = atUsb();
    const { host } = board.usbCable;
    const request = fc.record({
      type: fc.oneof(
        fc.constantFrom(0x80, 0x81, 0x82, 0, 1, 2, 0x21, 0xa1),
        fc.integer({ min: 0, max: 255 }),
      ),
      request: fc.oneof(fc.integer({ min: 0, max: 12 }), fc.integer({ min: 0, max: 255 })),
      value: fc.oneof(fc.integer({ min: 0, max: 4 }), fc.integer({ min: 0, max: 0xffff })),
      index: fc.oneof(fc.constantFrom(0, 1, 2, 0x82, 0x81), fc.integer({ min: 0, max: 0xffff })),
      length: fc.oneof(fc.integer({ min: 0, max: 70 }), fc.integer({ min: 0, max: 0xffff })),
    });
    console.log(`seed ${SEED}`);
    for (const [index, each] of fc.sample(request, { numRuns: RANDOM_REQUESTS, seed: SEED }).entries()) {
      // An address or a configuration that it takes is put back; what the board was told, it does.
      const data =
        (each.type & 0x80) === 0 && each.length > 0 ? new Uint8Array(Math.min(each.length, 130)) : undefined;
      const { length, ...rest } = each;
      const outcome = ask(data === undefined ? each : { ...rest, data });
      if (outcome.ended === 'done' && each.type === 0 && each.request === 5) host.address = each.value;
      expect(length, `request ${index}`).toBeGreaterThanOrEqual(0);
      if (index % 100 === 99) expect(bytesOf(ask(descriptor(1, 18)))).toHaveLength(18);
    }
    expect(board.lampEdges).toEqual([]);
    expect(board.watchdogResets).toEqual([]);
    expect(board.mistakes).toEqual([]);
  }, 1_200_000);
});
