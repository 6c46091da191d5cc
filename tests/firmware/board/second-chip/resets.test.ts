import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { boathouse } from '../../core/evening/boathouse.js';
import { EveningBench } from '../../core/evening/evening-bench.js';
import { MicrobitBoard } from './microbit-board.js';
import { secondChipImage, secondChipRuns } from './requirements.js';

/** firmware/board/chip/fault.h. */
const FAULT_HARD = 16;

describe.runIf(secondChipRuns)('a reset of the second chip with the lamp on', () => {
  let board: MicrobitBoard;

  beforeAll(() => void secondChipImage(), 240_000);

  beforeEach(() => {
    board = new MicrobitBoard({ image: secondChipImage() });
    const bench = new EveningBench(board);
    bench.greet();
    bench.print(boathouse);
    bench.hold();
    expect(board.lampOn).toBe(true);
  });

  afterEach(() => board.close());

  /** What the board says of its last start. */
  function lastStart(): object | undefined {
    const bench = new EveningBench(board);
    bench.greet();
    return bench.log().findLast(({ type }) => type === 'started');
  }

  test('by its pin puts the lamp out, and the log says why', () => {
    board.reset('reset-pin');
    expect(board.lampOn).toBe(false);
    expect(lastStart()).toMatchObject({ cause: 'reset-pin' });
    expect(board.ownResets).toEqual([]);
  }, 120_000);

  test('by a fault of its processor puts the lamp out, and the log says why', () => {
    board.goAstray();
    board.advanceUs(100_000);
    expect(board.lampOn).toBe(false);
    expect(board.ownResets).toHaveLength(1);
    expect(lastStart()).toMatchObject({ cause: 'trap', detail: FAULT_HARD });
  }, 120_000);
});
