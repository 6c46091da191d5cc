import { describe, expect, it } from 'vitest';
import { Conversation } from '../session/conversation.js';

// A board that is late with the moments that the core asked for: it was busy with something else. The core alone, since the
// simulated board is never late.

const SECOND_US = 1_000_000n;

/** What happens to the core from here on, on its own clock. */
function atRest() {
  const board = new Conversation();
  let nowUs = SECOND_US;
  return {
    board,
    /** After so many microseconds. */
    pedal(afterUs: bigint, down: boolean): void {
      nowUs += afterUs;
      board.happens((core) => core.pedalEdge(Number(down), nowUs));
      board.settle(nowUs);
    },
    wake(afterUs: bigint): void {
      nowUs += afterUs;
      board.happens((core) => core.deadline(nowUs));
      board.settle(nowUs);
    },
    lampEnded(onUs: number): void {
      board.happens((core) => core.lampEnded(onUs, nowUs));
      board.settle(nowUs);
    },
    /** What was told of this kind since power-up. */
    told: (kind: string) => board.told.filter((what) => what.startsWith(kind)),
  };
}

describe('a board that wakes late', () => {
  it('takes a press and its release for what they were, though both are told before any moment that was due', () => {
    const { pedal, wake, told } = atRest();
    pedal(0n, true);
    pedal(120_000n, false);
    wake(60_000n);
    expect(told('row 0').at(-1)).toContain('Stopped down? Hold');
  });

  it('takes a press of a second for a hold, though nothing was told in between', () => {
    const { board, pedal } = atRest();
    pedal(0n, true);
    pedal(SECOND_US, false);
    expect(board.lampStarts).toBe(1);
  });
});

describe('the light of the display', () => {
  it('is told once when the lamp is out again, and then stays as it is', () => {
    const { board, pedal, wake, lampEnded, told } = atRest();
    pedal(0n, true);
    wake(SECOND_US);
    expect(board.lampStarts).toBe(1);
    pedal(0n, false);
    wake(SECOND_US);
    pedal(0n, true);
    wake(300n);
    lampEnded(1_000_000);
    const { length } = told('display');
    for (let taps = 0; taps < 4; taps++) {
      pedal(200_000n, false);
      wake(SECOND_US);
      pedal(0n, true);
      wake(SECOND_US);
    }
    expect(told('display').length).toBe(length);
  });
});
