import { describe, expect, it } from 'vitest';
import { holdPedal } from '../../../../host/board/sim/controls.js';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import {
  encodeLine,
  type Message,
  messageTypes,
  protocolVersion,
  schemaHash,
} from '../../../../shared-protocol/index.js';
import { randomMessage } from '../../../proof/fuzz/random-message.js';
import { Random } from '../../../setup/random.js';

const SEED = 20270305;
const NOISE_BYTES = 1_000_000;
const CHUNK = 4096;
const MESSAGES_OF_EACH_TYPE = 40;

/** A board that was greeted, and its cable. */
function greeted() {
  const board = new SimulatedBoard();
  const starts: string[] = [];
  board.on('started', (cause) => starts.push(cause));
  const cable = board.plug();
  const heard = { errors: 0 };
  cable.on('data', (chunk: Buffer) => {
    heard.errors += chunk.toString('latin1').split('["error"').length - 1;
  });
  const hello: Message = {
    type: 'hello',
    id: 1,
    protocol: protocolVersion,
    schemaHash,
    hostVersion: '0.1.0',
  };
  cable.write(encodeLine(hello));
  return { board, cable, starts, heard };
}

function expectDark({ board, starts }: ReturnType<typeof greeted>): void {
  expect(board.lampEdges).toEqual([]);
  expect(starts, 'restarts').toEqual([]);
}

/** The same board still does what its pedal says, or the darkness would prove nothing. */
function expectAlive({ board }: ReturnType<typeof greeted>): void {
  holdPedal(board, 1000);
  expect(board.lampOn).toBe(true);
  holdPedal(board, 1000);
  expect(board.lampOn).toBe(false);
}

describe('nothing that comes over the serial line lights the lamp', () => {
  it(`not ${NOISE_BYTES} random bytes`, async () => {
    const pair = greeted();
    const random = new Random(SEED);
    for (let sent = 0; sent < NOISE_BYTES; sent += CHUNK) {
      // Newlines more often than chance has them, or everything would be one line that is too long.
      const bytes = Buffer.from(
        Array.from({ length: CHUNK }, () => (random.below(60) === 0 ? 0x0a : random.below(256))),
      );
      pair.cable.write(bytes);
      pair.board.advanceUs(1000);
      // What it answers is taken in, or it would be thrown away unread.
      await new Promise((resolve) => setImmediate(resolve));
    }
    expectDark(pair);
    pair.cable.write('\n');
    expectAlive(pair);
    expect(pair.heard.errors, 'lines that the board refused').toBeGreaterThan(NOISE_BYTES / 100);
  });

  it.each(['at rest', 'with the strip chosen', 'with another laptop'])(
    'nor any well-formed message, %s',
    (when) => {
      const pair = greeted();
      const random = new Random(SEED);
      if (when === 'with the strip chosen')
        pair.cable.write(encodeLine({ type: 'choose', id: 2, job: 'strip', name: '' }));
      if (when === 'with another laptop')
        pair.cable.write(
          encodeLine({ type: 'hello', id: 2, protocol: 1, schemaHash: '00000000', hostVersion: '1' }),
        );
      for (let round = 0; round < MESSAGES_OF_EACH_TYPE; round++) {
        for (const type of messageTypes) {
          // A hello of chance is another laptop's: after it the board would refuse the rest without a look.
          if (type === 'hello') continue;
          pair.cable.write(encodeLine(randomMessage(random, [type])));
          pair.board.advanceUs(random.below(100_000));
        }
      }
      pair.board.advanceUs(60_000_000);
      expectDark(pair);
    },
  );
});
