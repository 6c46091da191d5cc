import { beforeAll, describe, expect, it } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import { Random } from '../../../setup/random.js';
import { type Request, StoreModel } from './store-model.js';
import { code, documentKind, StoreRig, wasCut } from './store-rig.js';

const { recipe, settings, baths } = documentKind;

/** Something to ask for, or to let the stores finish everything, or to let them erase ahead as well. */
type Move = Request | 'finish' | 'idle';

const random = new Random(2027);
const begin = (): Move => ({ what: 'begin', kind: 1, payload: random.bytes(104) });
const end = (): Move => ({ what: 'end', payload: random.bytes(12) });
const append = (): Move => ({ what: 'append', kind: 2, payload: random.bytes(random.below(200)) });
const forget = (seq: number): Move => ({ what: 'forget', seq });
const put = (kind: number, name: string, length: number): Move => ({
  what: 'put',
  kind,
  name,
  body: random.bytes(length),
});
const drop = (kind: number, name: string): Move => ({ what: 'drop', kind, name });

/** An evening with uploads under the exposures; `seq` is the first number that it will be given. */
function evening(seq: number): Move[] {
  const moves: Move[][] = [
    [append(), 'finish'],
    [
      begin(),
      'finish',
      end(),
      'finish',
      begin(),
      put(recipe, 'jetty', 700),
      'finish',
      end(),
      append(),
      'finish',
    ],
    ['idle', begin(), 'finish', end(), forget(seq + 1), 'finish'],
    [put(recipe, 'jetty', 1200), begin(), 'finish', append(), end(), append(), 'finish', 'idle'],
    [put(settings, '', 40), 'finish', put(settings, '', 44), 'finish', forget(seq + 4), append(), 'finish'],
    [put(recipe, 'reeds', 300), 'finish', drop(recipe, 'jetty'), begin(), 'finish', end(), 'finish', 'idle'],
    Array.from({ length: 18 }, (): Move[] => [append(), 'finish']).flat(),
    [forget(seq + 20), 'finish', put(recipe, 'jetty', 4032), 'finish', drop(recipe, 'reeds'), 'finish'],
    [begin(), 'finish'],
  ];
  return moves.flat();
}

/** What is done after a cut: everything again on the same names, so that leftovers would show. */
function afterwards(seq: number): Move[] {
  const moves: Move[][] = [
    ['finish', begin(), 'finish', end(), 'finish', put(recipe, 'jetty', 500), append(), 'finish'],
    [forget(Math.max(0, seq - 2)), 'finish', put(settings, '', 48), 'finish', 'idle'],
    [put(recipe, 'reeds', 64), 'finish', drop(recipe, 'jetty'), 'finish', put(baths, 'one', 9), 'finish'],
  ];
  return moves.flat();
}

function make(rig: StoreRig, model: StoreModel, move: Move): void {
  if (move === 'idle') rig.core.idle();
  else if (move !== 'finish') {
    const answer = model.ask(rig, move);
    const mayBeGone = move.what === 'drop' && answer === code.notFound;
    if (answer < 0 && !mayBeGone) throw new Error(`${move.what} was refused with ${answer}`);
    return;
  }
  while (rig.step()) model.hear(rig);
  model.hear(rig);
}

function makeAll(rig: StoreRig, model: StoreModel, moves: readonly Move[]): void {
  for (const move of moves) make(rig, model, move);
}

interface Scene {
  readonly image: Uint8Array;
  readonly model: StoreModel;
  readonly moves: Move[];
  readonly operations: number;
}

/** A scene to cut into: what is stored at its start, and the evening, counted in flash operations. */
function scene(prepare: (rig: StoreRig, model: StoreModel) => void): Scene {
  const flash = new Flash();
  const model = new StoreModel();
  const rig = new StoreRig(flash);
  prepare(rig, model);
  const image = flash.image();
  const moves = evening(rig.core.nextSeq());
  const dryRun = new Flash();
  dryRun.load(image);
  const dryModel = model.copy();
  const dryRig = new StoreRig(dryRun);
  dryModel.recover(dryRig);
  makeAll(dryRig, dryModel, moves);
  dryModel.check(dryRig);
  return { image, model, moves, operations: dryRun.operations };
}

/** The tears tried at each operation: before it, after it without a word, and some subsets of its bits. */
function tear(number: number, seed: number): () => boolean {
  if (number === 0) return () => false;
  if (number === 1) return () => true;
  const bits = new Random(seed);
  const share = number === 2 ? 0.99 : bits.below(1000) / 1000;
  return () => bits.chance(share);
}

/** Runs until the cut, and judges the boot after it; gives the rig of that boot. */
function cutAndRecover(rig: StoreRig, model: StoreModel, moves: readonly Move[]): StoreRig {
  wasCut(() => makeAll(rig, model, moves));
  rig.flash.restorePower();
  const next = new StoreRig(rig.flash);
  model.recover(next);
  return next;
}

function playCut(flash: Flash, from: Scene, operation: number, tearing: number): void {
  const seed = operation * 31 + tearing;
  const choice = new Random(seed + 77);
  flash.load(from.image);
  const model = from.model.copy();
  let rig = new StoreRig(flash);
  model.recover(rig);
  flash.cutPowerAfter(operation, tear(tearing, seed));
  rig = cutAndRecover(rig, model, from.moves);
  // Again while it recovers, then to the end.
  flash.cutPowerAfter(choice.below(30), tear(choice.below(5), seed + 1));
  rig = cutAndRecover(rig, model, afterwards(rig.core.nextSeq()));
  makeAll(rig, model, afterwards(rig.core.nextSeq()));
  model.check(rig);
  const last = new StoreRig(flash);
  model.recover(last);
}

const tears = 6;
const scenes: Record<string, (rig: StoreRig, model: StoreModel) => void> = {
  'a fresh board': (rig, model) => makeAll(rig, model, ['finish']),
  'a board that has seen much: the ring round its end, the tally at a sector end, the shelf full': (
    rig,
    model,
  ) => {
    makeAll(rig, model, ['finish']);
    for (let number = 0; number < 62; number++)
      makeAll(rig, model, [put(recipe, `old-${number}`, 9), 'finish']);
    for (let number = 0; number < 28; number++)
      makeAll(rig, model, [put(baths, `old-${number}`, 9), 'finish']);
    for (let entry = 1; entry <= 4538; entry++) {
      makeAll(rig, model, [{ what: 'append', kind: 3, payload: random.bytes(200) }, 'finish']);
      if (entry % 36 === 0) makeAll(rig, model, [forget(entry), 'finish']);
    }
  },
};

describe.each(Object.entries(scenes))('a power cut on %s', (_name, prepare) => {
  let from: Scene;
  const flash = new Flash();
  beforeAll(() => {
    from = scene(prepare);
  });

  it.each(Array.from({ length: tears }, (_, number) => number))(
    'before or inside any operation, tear %i, loses nothing acknowledged and mixes nothing',
    (tearing) => {
      expect(from.operations).toBeGreaterThan(90);
      for (let operation = 0; operation < from.operations; operation++) {
        try {
          playCut(flash, from, operation, tearing);
        } catch (error) {
          throw new Error(`operation ${operation} of ${from.operations}, tear ${tearing}`, { cause: error });
        } finally {
          flash.restorePower();
        }
      }
    },
  );
});

describe('a document that is dropped', () => {
  it('does not come back as an older version, wherever the power failed while it was replaced', () => {
    const flash = new Flash();
    const before = new StoreRig(flash);
    before.finish(before.put(recipe, 'jetty', random.bytes(300)));
    const image = flash.image();
    const newer = random.bytes(300);
    for (let operation = 0; operation < 7; operation++) {
      flash.load(image);
      flash.restorePower();
      flash.cutPowerAfter(operation, () => false);
      wasCut(() => {
        const rig = new StoreRig(flash);
        rig.finish(rig.put(recipe, 'jetty', newer));
      });
      flash.restorePower();
      const after = new StoreRig(flash);
      expect(after.finish(after.drop(recipe, 'jetty'))).toBe(code.done);
      expect(new StoreRig(flash).names(recipe), `cut before operation ${operation}`).toEqual([]);
    }
  });
});
