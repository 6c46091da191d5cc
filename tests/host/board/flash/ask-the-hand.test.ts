import { describe, expect, it } from 'vitest';
import { BoardLostError, RefusedError } from '../../../../host/board/errors.js';
import { askTheHand, CannotBeAskedError } from '../../../../host/board/flash/ask-the-hand.js';
import { NotAllowedAtBoardError } from '../../../../host/board/flash/flash-errors.js';
import type { Board } from '../../../../host/board/link/board.js';
import { openBoard } from '../../../../host/board/link/open-board.js';
import { holdPedal, tapPedal } from '../../../../host/board/sim/controls.js';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { Timeline } from '../../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../../host/board/sim/virtual-time.js';

const EVENING_MS = Date.UTC(2027, 2, 5, 20);

/** Asks a simulated board, and has the hand do something a second after its panel asks. */
async function ask(
  hand: (board: SimulatedBoard) => void,
  before: (board: SimulatedBoard) => void = () => {},
) {
  const timeline = new Timeline();
  const simulated = new SimulatedBoard({ timeline });
  const clock = timelineClock(timeline, EVENING_MS);
  const over = <Result>(work: Promise<Result>) => inVirtualTime(timeline, work);
  const board = await over(openBoard(simulated.plug(), { clock, draw: () => 0 }));
  before(simulated);
  const told: string[] = [];
  const outcome = await over(
    askTheHand(board, {
      onAsked: () => {
        told.push(simulated.panel[1]!.trim());
        timeline.at(timeline.nowUs + 1_000_000, () => hand(simulated));
      },
      onAllowed: () => told.push('allowed'),
    }).then(
      () => 'away',
      (error: unknown) => error,
    ),
  );
  const closed = board.close().catch(() => {});
  await over(closed);
  return { outcome, told, simulated };
}

function words(outcome: unknown): string {
  expect(outcome).toBeInstanceOf(NotAllowedAtBoardError);
  return (outcome as Error).message;
}

describe('asking the hand at the knob', () => {
  it('is done when the board has gone', async () => {
    const { outcome, told, simulated } = await ask((board) => board.knobTurn(3));
    expect(outcome).toBe('away');
    expect(told).toEqual(['New firmware?', 'allowed']);
    expect(simulated.powered).toBe(false);
  });

  // 'treadle sim' does so: it said for ever that something was left to write, and to try again.
  it('ends where the board goes on at once, as a simulated one, which has no drive to become', async () => {
    const { outcome, told, simulated } = await ask(
      (board) => board.knobTurn(3),
      (board) => board.on('left', () => board.startNewFirmware()),
    );
    expect(words(outcome)).toMatch(/a simulated one, which has no drive to become\. Nothing was changed/);
    expect(told).toEqual(['New firmware?', 'allowed']);
    expect(simulated.powered).toBe(true);
  });

  it('ends where the hand or the time says no', async () => {
    for (const hand of [(board: SimulatedBoard) => board.knobTurn(-1), tapPedal, () => {}]) {
      const { outcome, told, simulated } = await ask(hand);
      expect(words(outcome)).toContain('nothing was changed');
      expect(told).toEqual(['New firmware?']);
      expect(simulated.powered).toBe(true);
    }
  });

  it("tells the board's reason where it is not asked at all", async () => {
    const { outcome, told } = await ask(
      () => {},
      (board) => {
        board.advanceUs(2_000_000);
        holdPedal(board, 900);
        expect(board.lampOn).toBe(true);
      },
    );
    expect(words(outcome)).toMatch(/^the board does not make way now.*something is under way/);
    expect(told).toEqual([]);
  });

  it('takes a board that is lost for one that has gone, since its drive tells', async () => {
    const { outcome } = await ask((board) => board.cutPower());
    expect(outcome).toBe('away');
  });

  it('knows firmware that cannot be asked', async () => {
    const before = (code: 'unknown-type' | 'not-allowed', text: string) =>
      ({
        askToMakeWay: () => Promise.reject(new RefusedError({ request: 'make-way', code, text })),
      }) as unknown as Board;
    const outcomes = [
      before('unknown-type', 'this board does not know that message'),
      before('not-allowed', 'the versions differ: only the log may be read'),
    ];
    for (const board of outcomes) await expect(askTheHand(board)).rejects.toThrow(CannotBeAskedError);
    const lost = { askToMakeWay: () => Promise.reject(new BoardLostError('/dev/board', 'unplugged')) };
    await expect(askTheHand(lost as unknown as Board)).rejects.toThrow(BoardLostError);
  });
});
