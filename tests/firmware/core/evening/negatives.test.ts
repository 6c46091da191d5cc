import { describe, expect, it } from 'vitest';
import { limits } from '../../../../shared-protocol/index.js';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

/** A fresh board in the dark: no laptop has sent it anything. */
function dark(): EveningBench {
  const bench = new EveningBench();
  bench.focusAndStopDown();
  bench.seconds(1);
  return bench;
}

/** Off and on again, with the lens confirmed. */
function offAndOn(bench: EveningBench): void {
  bench.board.cutPower();
  bench.board.restorePower();
  bench.seconds(1);
  bench.tap();
  bench.hold();
}

/** Gives all of the strip that is chosen. */
function give(bench: EveningBench): void {
  bench.tap();
  for (let patch = 0; patch < 12 && !bench.panel[0]!.startsWith('Tap again'); patch++) {
    bench.tap();
    bench.seconds(70);
  }
}

/** Gives the strip that is chosen and reads it: the patch that is right stands `back` clicks before the last. */
function findBase(bench: EveningBench, back: number): void {
  give(bench);
  bench.turn(1);
  bench.turn(-20);
  bench.turn(back);
  bench.push();
  bench.seconds(1);
}

/** Patch 4 of the usual strip: 16 s, long enough to dodge in. */
const sixteen = 7;

const usual = {
  ...({ firstMs: 2000, stepStops120: 120, stepMs: 0, patches: 6 } as const),
  ...({ cover: 'cumulative', filter: '' } as const),
};

/** From a strip that the board proposes next, on to the print. */
function toThePrint(bench: EveningBench): void {
  bench.turn(1);
  bench.seconds(1);
}

const recipes = (bench: EveningBench) =>
  bench
    .ask({ type: 'recipe-list', id: 0 })
    .flatMap((line) => (line.type === 'recipe-line' ? [[line.name, line.version, line.baseMs]] : []));

describe('a print that is kept in the dark', () => {
  it('is asked for its name, which is that of a negative, and is a recipe from there on', () => {
    const bench = dark();
    findBase(bench, sixteen);
    toThePrint(bench);
    expect(bench.panel).toEqual(['Tap print Hold focus', '16.00 s base', 'negative-1', 'Hold knob: keep it']);
    bench.holdKnob();
    expect(bench.panel).toEqual([
      'Tap keep Hold rest',
      'Turn: another name',
      'negative-1',
      'new on the board',
    ]);
    bench.push();
    bench.seconds(2);
    expect(bench.panel).toEqual(['Tap print Hold focus', '16.00 s base', 'negative-1', '']);
    bench.greet();
    expect(recipes(bench)).toEqual([['negative-1', 1, 16_000]]);
    expect(entries(bench, 'recipe-version')).toMatchObject([{ recipe: 'negative-1', version: 1 }]);
  });

  it('has the number that the knob turns to, past those that are taken, up to 99', () => {
    const bench = dark();
    findBase(bench, sixteen);
    toThePrint(bench);
    bench.keep(16);
    expect(bench.panel[2]).toBe('negative-17');
    bench.seconds(1);
    bench.keep();
    bench.holdKnob();
    const turned = (...turns: readonly number[]) => {
      for (const clicks of turns) {
        bench.turn(clicks);
        bench.seconds(0.2);
      }
      return bench.panel[2];
    };
    expect([turned(1), turned(14), turned(1), turned(1)]).toEqual(
      [1, 15, 16, 18].map((number) => `negative-${number}`),
    );
    expect(turned(24, 24, 24, 24, 24)).toBe('negative-99');
    expect(turned(-24, -24, -24, -24, -1)).toBe('negative-1');
    expect(turned(-1)).toBe('negative-17');
  });

  it('under another name leaves the recipe that it came from as it was', () => {
    const bench = dark();
    bench.greet();
    bench.print(boathouse);
    bench.tap();
    bench.turn(2);
    bench.holdKnob();
    bench.holdKnob();
    expect(bench.panel.slice(1)).toEqual(['Turn: another name', 'boathouse', 'over version 1']);
    bench.turn(1);
    expect(bench.panel.slice(1)).toEqual(['Turn: another name', 'negative-1', 'new on the board']);
    bench.tap();
    bench.seconds(2);
    // 12 s x 2^(1/6), by definition.
    expect(recipes(bench)).toEqual([
      ['boathouse', 1, 12_000],
      ['negative-1', 1, 13_470],
    ]);
    expect(bench.panel.slice(1, 3)).toEqual(['13.47 s base', 'negative-1']);
  });

  it('may be a plain exposure, with its time and filter', () => {
    const bench = dark();
    bench.turn(-9);
    bench.turn(1);
    bench.tap();
    for (let pushes = 0; pushes < 3; pushes++) bench.push();
    bench.turn(5);
    bench.answer();
    bench.tap();
    bench.seconds(11);
    expect(bench.panel[2]).toBe('Hold knob: keep it');
    bench.keep();
    expect(bench.panel.slice(0, 3)).toEqual(['Tap again Hold rest', '10.00 s in all', 'negative-1']);
    bench.greet();
    const kept = bench.ask({ type: 'recipe-get', id: 0, name: 'negative-1' });
    expect(kept.find((line) => line.type === 'recipe-head')).toMatchObject({ baseMs: 10_000, version: 1 });
    expect(kept.find((line) => line.type === 'recipe-pass')).toMatchObject({ kind: 'base', filter: '2' });
  });

  it('is not kept by a hold of the pedal, nor by one of the knob', () => {
    const bench = dark();
    findBase(bench, sixteen);
    toThePrint(bench);
    bench.holdKnob();
    bench.hold();
    expect(bench.panel[0]).toBe('Tap print Hold focus');
    bench.holdKnob();
    bench.holdKnob();
    expect(bench.panel[3]).toBe('Hold knob: keep it');
    bench.greet();
    expect(recipes(bench)).toEqual([]);
  });

  it('that has not changed is not kept again', () => {
    const bench = dark();
    bench.greet();
    bench.print(boathouse);
    bench.holdKnob();
    expect(bench.panel[3]).toBe('is kept as it is');
    bench.push();
    bench.seconds(2);
    expect(recipes(bench)).toEqual([['boathouse', 1, 12_000]]);
  });
});

describe('several negatives in one evening', () => {
  it('have a strip each, which says for which it is', () => {
    const bench = dark();
    findBase(bench, sixteen);
    toThePrint(bench);
    bench.keep();
    bench.greet();
    bench.turn(-1);
    expect(bench.panel[3]).toBe('for negative-1');
    bench.turn(-1);
    expect(bench.panel.slice(2)).toEqual(['12 patches, 1/10 st', 'for another negative']);
    bench.seconds(1);
    bench.ask({ type: 'strip-set', id: 0, ...usual });
    bench.turn(-1);
    findBase(bench, sixteen - 2);
    bench.turn(1);
    expect(bench.panel.slice(1)).toEqual(['8.00 s base', 'negative-2', 'Hold knob: keep it']);
    bench.keep();
    expect(recipes(bench)).toEqual([
      ['negative-1', 1, 16_000],
      ['negative-2', 1, 8000],
    ]);
  });

  it('are told apart over power-off: the strip that is chosen, and one that was given and not read yet', () => {
    const bench = dark();
    findBase(bench, sixteen);
    toThePrint(bench);
    bench.turn(-1);
    expect(bench.panel[3]).toBe('for negative-1');
    bench.seconds(2);
    offAndOn(bench);
    expect(bench.panel[3]).toBe('for negative-1');
    bench.turn(-1);
    expect(bench.panel[3]).toBe('for another negative');
    bench.seconds(2);
    offAndOn(bench);
    expect(bench.panel[3]).toBe('for another negative');
    give(bench);
    bench.seconds(2);
    offAndOn(bench);
    bench.push();
    bench.turn(-20);
    bench.turn(5);
    bench.push();
    bench.seconds(1);
    // The proposed strip begins 5.5 tenths of a stop below 16 s; its third patch is right: 16 x 2^(-0.35), by definition.
    expect(bench.panel.slice(1, 3)).toEqual(['12.55 s base', 'negative-2']);
    bench.greet();
    expect(recipes(bench)).toEqual([['negative-1', 1, 16_000]]);
  });

  it('keep what was found for one that was not kept, when a strip for the next is read', () => {
    const bench = dark();
    findBase(bench, sixteen);
    toThePrint(bench);
    bench.turn(-2);
    expect(bench.panel[3]).toBe('for another negative');
    findBase(bench, sixteen);
    bench.seconds(2);
    bench.greet();
    expect(recipes(bench).map(([name]) => name)).toEqual(['negative-1']);
    expect(entries(bench, 'recipe-version')).toMatchObject([{ recipe: 'negative-1', version: 1 }]);
    bench.board.cutPower();
    bench.board.restorePower();
    bench.seconds(1);
    bench.turn(1);
    expect(bench.panel.slice(1, 3)).toEqual(['16.00 s base', 'negative-1']);
  });
});

describe('a base that was found and not kept', () => {
  // A recipe that the laptop sent and chose was in its place, and the base was gone.
  it('is kept as a negative when a laptop sends another recipe and chooses it', () => {
    const bench = dark();
    findBase(bench, sixteen);
    bench.greet();
    bench.print(boathouse);
    bench.seconds(2);
    expect(bench.panel[2]).toBe('boathouse');
    expect(recipes(bench)).toEqual([
      ['boathouse', 1, 12_000],
      ['negative-1', 1, 16_000],
    ]);
  });

  it('is kept as a negative when a laptop sends the recipe in use anew', () => {
    const bench = dark();
    bench.greet();
    bench.print(boathouse);
    bench.turn(-1);
    findBase(bench, sixteen);
    bench.print({ ...boathouse, baseMs: 9000 });
    bench.seconds(2);
    expect(bench.panel.slice(1, 3)).toEqual(['9.00 s base', 'boathouse']);
    expect(recipes(bench)).toEqual([
      ['boathouse', 1, 9000],
      ['negative-1', 1, 16_000],
    ]);
  });

  it('is kept as a negative when its recipe has had the last version that there is, and is gone from the board', () => {
    const bench = dark();
    bench.greet();
    bench.print({ ...boathouse, version: 0xffff });
    bench.turn(-1);
    findBase(bench, sixteen);
    bench.ask({ type: 'recipe-remove', id: 0, name: 'boathouse' });
    bench.print({ ...boathouse, name: 'ashdown' });
    bench.seconds(2);
    expect(recipes(bench)).toEqual([
      ['ashdown', 1, 12_000],
      ['negative-1', 1, 16_000],
    ]);
  });

  it('is kept as a negative when the knob goes on to another recipe', () => {
    const bench = dark();
    bench.greet();
    bench.print({ ...boathouse, name: 'ashdown' });
    bench.print(boathouse);
    bench.turn(-2);
    expect(bench.panel[3]).toBe('for ashdown');
    findBase(bench, sixteen);
    bench.turn(2);
    bench.seconds(2);
    expect(bench.panel[2]).toBe('boathouse');
    expect(recipes(bench)).toContainEqual(['negative-1', 1, 16_000]);
  });

  // Two sectors are worn out, so that after the paper's kind the flash is long busy making room for what was mixed fresh.
  it('is kept as a negative as well when another is chosen while a bath is still to be counted', () => {
    const bench = dark();
    findBase(bench, sixteen);
    bench.greet();
    bench.ask({
      ...{ type: 'bath-set', id: 0, bath: 1, baths: 1, label: 'wash', limitCm2: 0, agitationSeconds: 0 },
      ...{ resinCoatedSeconds: 60, fibreSeconds: 60, drainSeconds: 10 },
    });
    bench.send({ ...boathouse, name: 'other' });
    bench.ask({ type: 'choose', id: 0, job: 'process', name: '' });
    bench.tap();
    for (let pushes = 0; pushes < 3; pushes++) bench.push();
    expect(bench.panel[3]).toBe('Knob: paper');
    bench.seconds(1);
    const last = shelfSectors(bench).findLastIndex((head) => head.startsWith('Shf1'));
    for (const next of [1, 2]) bench.board.flash.wearOut(SHELF_AT / limits.sectorBytes + last + next);
    bench.turn(1);
    for (const down of [true, false]) {
      bench.board.knobPush(down);
      bench.board.advanceUs(25_000);
    }
    expect(bench.panel[3]).toBe('Knob: mixed fresh');
    bench.turn(1);
    for (const down of [true, false, true, false]) {
      bench.board.pedal(down);
      bench.board.advanceUs(20_000);
    }
    expect(bench.panel[0]).toBe('Tap again Hold rest');
    const [answer] = bench.askAtOnce({ type: 'choose', id: 0, job: 'recipe', name: 'other' }, 1000);
    expect(answer).toMatchObject({ type: 'ok' });
    bench.seconds(3);
    expect(recipes(bench)).toEqual([
      ['negative-1', 1, 16_000],
      ['other', 1, 12_000],
    ]);
  });

  it('takes no more of the flash than itself', () => {
    const bench = dark();
    findBase(bench, sixteen);
    bench.greet();
    bench.print(boathouse);
    bench.seconds(3);
    expect(namesOnTheShelf(bench)).toContain('negative-1');
    expect(namesOnTheShelf(bench)).not.toContain('settings');
  });

  it('leaves the knob all steps of the strips that follow', () => {
    const bench = dark();
    const steps = () => {
      bench.tap();
      bench.pushTo('step');
      const seen = [-9, ...Array.from({ length: 5 }, () => 1)].map((clicks) => {
        bench.seconds(1);
        bench.turn(clicks);
        return bench.panel[1];
      });
      bench.hold();
      return seen;
    };
    bench.greet();
    const short = { ...usual, firstMs: 1000, patches: 2 };
    bench.ask({ type: 'strip-set', id: 0, ...short });
    const before = steps();
    bench.ask({ type: 'strip-set', id: 0, ...usual });
    findBase(bench, sixteen);
    bench.ask({ type: 'strip-set', id: 0, ...short });
    expect(steps()).toEqual(before);
    expect(new Set(before).size).toBe(6);
  });

  it('is the next negative where the one before is neither in use nor on its way any more', () => {
    const bench = dark();
    findBase(bench, sixteen);
    toThePrint(bench);
    bench.keep();
    bench.greet();
    bench.print(boathouse);
    bench.ask({ type: 'strip-set', id: 0, ...usual });
    bench.turn(-1);
    expect(bench.panel[3]).toBe('for another negative');
    findBase(bench, sixteen);
    toThePrint(bench);
    expect(bench.panel[2]).toBe('negative-2');
  });
});

describe('the numbers of negatives', () => {
  it('are written as people do, each of them', () => {
    const bench = dark();
    bench.greet();
    bench.print(boathouse);
    bench.holdKnob();
    for (let number = 1; number <= 99; number++) {
      bench.turn(1);
      bench.seconds(0.2);
      expect(bench.panel[2]).toBe(`negative-${number}`);
    }
  });

  it('begin with one, whatever other names a laptop gave', () => {
    const bench = dark();
    bench.greet();
    for (const name of ['negative-0', 'negative-100', boathouse.name]) bench.print({ ...boathouse, name });
    bench.seconds(1);
    bench.holdKnob();
    const shown = () => {
      bench.seconds(1);
      return bench.panel[2];
    };
    expect(shown()).toBe(boathouse.name);
    bench.turn(1);
    expect(shown()).toBe('negative-1');
    bench.turn(-1);
    expect(shown()).toBe(boathouse.name);
    for (const clicks of [-1, -1, -5]) {
      bench.turn(clicks);
      expect(shown()).toBe(boathouse.name);
    }
    for (let turns = 0; turns < 6; turns++) bench.turn(24);
    expect(shown()).toBe('negative-99');
    bench.turn(1);
    expect(shown()).toBe('negative-99');
  });
});

const SHELF_AT = 0x12_0000;

/** How each sector of the shelf begins. */
function shelfSectors(bench: EveningBench): string[] {
  const { flash } = bench.board;
  const count = (flash.size - SHELF_AT) / limits.sectorBytes;
  return Array.from({ length: count }, (_, at) =>
    Buffer.from(flash.read(SHELF_AT + at * limits.sectorBytes, 64)).toString('latin1'),
  );
}

/** Of every document that was ever written, from its head. */
function namesOnTheShelf(bench: EveningBench): string[] {
  return shelfSectors(bench).flatMap((head) =>
    head.startsWith('Shf1') ? [head.slice(32, 32 + head.charCodeAt(31))] : [],
  );
}

/** The bytes of every recipe that the shelf has, as its documents' heads say. */
function bytesOnTheShelf(bench: EveningBench): number[] {
  const { flash } = bench.board;
  const sectors = Array.from({ length: flash.size / limits.sectorBytes }, (_, at) => at * limits.sectorBytes);
  return sectors.flatMap((at) => {
    const head = Buffer.from(flash.read(at, 64));
    const isThere = head.toString('latin1', 0, 4) === 'Shf1' && head.readUInt32LE(16) !== 0;
    const body = Buffer.from(flash.read(at + 64, 64)).toString('latin1');
    return isThere && /boathouse|negative-1/.test(body) && head.readUInt16LE(28) > 300
      ? [head.readUInt16LE(28)]
      : [];
  });
}

it('a recipe that the evening keeps takes the same of the shelf as when a laptop sent it', () => {
  const bench = dark();
  bench.greet();
  bench.send({ ...boathouse, name: 'other' });
  bench.print(boathouse);
  bench.ask({ type: 'strip-set', id: 0, ...usual });
  findBase(bench, sixteen);
  bench.seconds(2);
  bench.ask({ type: 'choose', id: 0, job: 'recipe', name: 'other' });
  bench.seconds(3);
  expect(recipes(bench).map(([name]) => name)).toEqual(['boathouse', 'negative-1', 'other']);
  const bytes = bytesOnTheShelf(bench);
  expect(bytes.length).toBeGreaterThan(2);
  expect(new Set(bytes).size).toBe(1);
});
