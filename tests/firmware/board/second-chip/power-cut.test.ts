import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Message } from '../../../../shared-protocol/index.js';
import { Random } from '../../../setup/random.js';
import { boathouse } from '../../core/evening/boathouse.js';
import { EveningBench } from '../../core/evening/evening-bench.js';
import { MicrobitBoard, PowerFailed } from './microbit-board.js';
import { secondChipImage, secondChipRuns } from './requirements.js';

type Entry = Extract<Message, { seq: number }>;

const SEED = 5;
const CUTS = 6;
/** Two uploads and the light for focusing begin about so many changes of the flash. */
const CHANGES = 12;
/** Programming a page takes some 900 instructions, erasing a sector far fewer. */
const MOST_INSTRUCTIONS = 900;

const plain = ({ id: _, ...entry }: Entry) => entry;

describe.runIf(secondChipRuns)('power on the second chip', () => {
  let board: MicrobitBoard;

  beforeAll(() => void secondChipImage(), 240_000);

  beforeEach(() => {
    board = new MicrobitBoard({ image: secondChipImage() });
  });

  afterEach(() => board.close());

  const greeted = () => {
    const bench = new EveningBench(board);
    bench.greet();
    return bench;
  };

  test('that fails while the lamp is on leaves an interrupted exposure in the log', () => {
    const bench = greeted();
    bench.print(boathouse);
    bench.focusAndStopDown();
    bench.tap();
    bench.answer();
    bench.tap();
    bench.seconds(1);
    expect(board.lampOn).toBe(true);
    board.cutPower();
    expect(board.lampOn).toBe(false);
    board.restorePower();
    const log = greeted().log();
    const entry = log.findLast(({ type }) => type === 'exposure');
    expect(entry).toMatchObject({ kind: 'base', outcome: 'interrupted', plannedMs: 12_000 });
    expect(log.findLast(({ type }) => type === 'started')).toMatchObject({ cause: 'power' });
  }, 120_000);

  test('that fails in the middle of changes of the flash loses no entry that was told and no recipe', () => {
    const random = new Random(SEED);
    let told: readonly Entry[] = [];
    let bases: (number | undefined)[] = [undefined];
    let failures = 0;
    for (let cut = 0; cut < CUTS; cut++) {
      const bench = greeted();
      const found = bench.log();
      const log = new Map(found.map((entry) => [entry.seq, plain(entry)]));
      for (const entry of told)
        expect(log.get(entry.seq), `entry ${entry.seq}, cut ${cut}`).toEqual(plain(entry));
      told = found;
      expect(bases).toContain(baseMsOf(bench));
      bases = [baseMsOf(bench)];
      board.failInto(1 + random.below(CHANGES), random.below(MOST_INSTRUCTIONS));
      try {
        for (const more of [0, 250]) {
          const baseMs = 8000 + 500 * cut + more;
          bases.push(baseMs);
          bench.print({ ...boathouse, baseMs });
          bases = [baseMs];
          told = bench.log();
        }
        bench.hold();
        bench.seconds(1);
        bench.tap();
        told = bench.log();
      } catch (error) {
        if (!(error instanceof PowerFailed)) throw error;
        failures++;
      }
      board.cutPower();
      board.restorePower();
    }
    console.log(`seed ${SEED}: the power failed in ${failures} changes of the flash`);
    expect(failures).toBeGreaterThan(CUTS / 2);
    expect(told.length).toBeGreaterThanOrEqual(CUTS);
    expect(board.ownResets).toEqual([]);
  }, 240_000);
});

function baseMsOf(bench: EveningBench<MicrobitBoard>): number | undefined {
  const line = bench.ask({ type: 'recipe-list', id: 0 }).find((one) => one.type === 'recipe-line');
  return line?.type === 'recipe-line' ? line.baseMs : undefined;
}
