import { describe, expect, it } from 'vitest';
import type { MessageOf } from '../../../../shared-protocol/index.js';
import { limits } from '../../../../shared-protocol/limits.js';
import { boathouse } from './boathouse.js';
import { chooseWork, type Work } from './choose-work.js';
import { EveningBench } from './evening-bench.js';
import { heardIn, heardSince } from './rhythm.js';

// What hand, foot and laptop want while the flash is still being written, worn out in part or as a whole. No outside source: it is
// held against the same on a flash that is quick, and against what the log has.

const SHELF_AT = 0x12_0000 / limits.sectorBytes;
const SHELF_SECTORS = 96;
/** Five quick ones, by README's table of tones. */
const WRONG = 'quick quick quick quick quick';
/** Nothing of a contact is heard sooner after it has changed (common practice: switches bounce for up to 15 ms). */
const BOUNCED_US = 26_000;

function begin(settings: Readonly<Record<string, number>> = {}): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  for (const [name, value] of Object.entries({ 'lens-check': 0, 'confirm-filter': 0, ...settings }))
    bench.ask({ type: 'set-setting', id: 0, name: name as 'metronome', value });
  bench.seconds(1);
  return bench;
}

function chosen(job: Work, settings: Readonly<Record<string, number>> = {}): EveningBench {
  const bench = begin(settings);
  bench.print(boathouse);
  chooseWork(bench, job);
  bench.seconds(1);
  return bench;
}

function offAndOn(bench: EveningBench): void {
  bench.seconds(3);
  bench.offAndOn();
}

function wearOut(bench: EveningBench, from: number, count: number): void {
  for (let sector = from; sector < from + count; sector++) bench.board.flash.wearOut(sector);
}

/** The pedal for as short a time as it is heard. */
function quickTap(bench: EveningBench): void {
  bench.board.pedal(true);
  bench.board.advanceUs(BOUNCED_US);
  bench.board.pedal(false);
  bench.board.advanceUs(BOUNCED_US);
}

function quickPush(bench: EveningBench): void {
  bench.board.knobPush(true);
  bench.board.advanceUs(BOUNCED_US);
  bench.board.knobPush(false);
  bench.board.advanceUs(BOUNCED_US);
}

const lights = (bench: EveningBench) =>
  bench.log().flatMap((entry) => (entry.type === 'exposure' && entry.kind !== 'focus' ? [entry] : []));
const strip = (firstMs: number, patches: number): MessageOf<'strip-set'> => ({
  ...{ type: 'strip-set', id: 0, firstMs, stepStops120: 60, stepMs: 0 },
  ...{ patches, cover: 'separate', filter: '' },
});

/** The shelf's sector that waits, erased and marked, for the next document; its mark stands at 0, its header at 16. */
function readySector(bench: EveningBench): number {
  for (let sector = 0; sector < SHELF_SECTORS; sector++) {
    const bytes = bench.board.flash.read((SHELF_AT + sector) * limits.sectorBytes, 32);
    if (bytes[0] !== 0xff && bytes.slice(16).every((byte) => byte === 0xff)) return sector;
  }
  throw new Error('no sector is ready');
}

/** The next document takes three sectors: two are worn out, and each erase takes 45 ms. */
function slowShelf(bench: EveningBench): void {
  wearOut(bench, SHELF_AT + readySector(bench), 2);
}

function laptopWrites(bench: EveningBench): void {
  bench.board.advanceUs(1000);
  expect(bench.askAtOnce({ type: 'name-set', id: 0, name: 'by the sink' })).toEqual([]);
}

const giveStrip = (bench: EveningBench) => {
  bench.ask(strip(8000, 3));
  bench.tap();
  for (let patch = 1; patch <= 3; patch++) {
    bench.tap();
    bench.seconds(60);
  }
};

describe('while the shelf is being written for a laptop', () => {
  it('what is found on a strip is in use all the same, after the power was off', () => {
    const [quick, slow] = [false, true].map((isSlow) => {
      const bench = chosen('recipe');
      giveStrip(bench);
      bench.seconds(2);
      if (isSlow) {
        slowShelf(bench);
        laptopWrites(bench);
      }
      bench.turn(-9);
      bench.turn(2);
      quickPush(bench);
      expect(bench.panel[0]).toMatch(/Hold focus$/);
      if (isSlow) expect(bench.hear()).toEqual([]);
      offAndOn(bench);
      bench.turn(1);
      return bench.panel;
    });
    expect(slow).toEqual(quick);
    expect(slow![2]).toContain('boathouse');
    expect(slow![1]).not.toBe(chosen('recipe').panel[1]);
  });

  it('what the knob turns to on a changed recipe is what an evening begins with after the power was off', () => {
    const bench = chosen('recipe');
    bench.tap();
    bench.push();
    bench.turn(1);
    bench.hold();
    bench.seconds(2);
    laptopWrites(bench);
    bench.turn(-1);
    const turned = bench.panel;
    offAndOn(bench);
    expect(bench.panel).toEqual(turned);
  });

  it('a base that was found is set aside for another recipe all the same', () => {
    const bench = begin();
    bench.send({ ...boathouse, name: 'other' });
    bench.print(boathouse);
    giveStrip(bench);
    bench.push();
    bench.turn(-9);
    bench.turn(2);
    bench.push();
    bench.seconds(2);
    laptopWrites(bench);
    bench.turn(1);
    bench.turn(1);
    bench.seconds(3);
    const names = bench
      .ask({ type: 'recipe-list', id: 0 })
      .flatMap((line) => (line.type === 'recipe-line' ? [line.name] : []));
    expect(names).toEqual(['boathouse', 'negative-1', 'other']);
  });
});

describe('while a newer version of a recipe is being written', () => {
  it('the knob may change the desk at any moment, and the newer version is the one that is there', () => {
    const moments = Array.from({ length: 40 }, (_, at) => at * 200 + 100);
    let answered = 0;
    for (const us of moments) {
      const bench = chosen('recipe');
      for (const baseMs of [13_000, 14_000]) bench.send({ ...boathouse, baseMs });
      bench.seconds(1);
      const commit = bench.upload({ ...boathouse, baseMs: 15_000 });
      answered += bench.askAtOnce(commit, us).length;
      bench.turn(-2);
      bench.seconds(1);
      const head = bench
        .ask({ type: 'recipe-get', id: 0, name: boathouse.name })
        .find((line) => line.type === 'recipe-head');
      expect(head, `${us} us`).toMatchObject({ baseMs: 15_000 });
    }
    expect(answered).toBeLessThan(moments.length);
  });
});

describe('while the desk is being written', () => {
  it('another strip is refused, and the one that was chosen is as it was', () => {
    const bench = chosen('recipe');
    bench.ask(strip(3000, 3));
    chooseWork(bench, 'recipe');
    bench.seconds(2);
    const before = bench.panel.slice(0, 3);
    bench.turn(-2);
    expect(bench.askAtOnce(strip(5000, 7))).toMatchObject([{ type: 'error', code: 'busy' }]);
    bench.seconds(2);
    chooseWork(bench, 'strip');
    expect(bench.panel.slice(1, 3)).toEqual(['3.00 s first', '3 patches, 1/2 st']);
    chooseWork(bench, 'recipe');
    expect(bench.panel.slice(0, 3)).toEqual(before);
  });

  it('a setting is refused, and is as it was', () => {
    const bench = chosen('recipe', { 'lamp-lag-ms': 120 });
    bench.ask(strip(3000, 3));
    chooseWork(bench, 'recipe');
    bench.seconds(2);
    bench.turn(-2);
    const answer = bench.askAtOnce({ type: 'set-setting', id: 0, name: 'lamp-lag-ms', value: 150 });
    expect(answer).toMatchObject([{ type: 'error', code: 'busy' }]);
    bench.seconds(2);
    for (let times = 0; times < 2; times++) {
      expect(bench.ask({ type: 'get-setting', id: 0, name: 'lamp-lag-ms' })).toMatchObject([{ value: 120 }]);
      offAndOn(bench);
    }
  });

  it('the checkup, which has it written anew, neither spoils that nor finds more bad sectors than there are', () => {
    const bench = chosen('strip');
    slowShelf(bench);
    bench.board.pedal(true);
    bench.board.advanceUs(BOUNCED_US);
    bench.askAtOnce(strip(5000, 7));
    bench.askAtOnce({ type: 'choose', id: 0, job: 'checkup', name: '' });
    bench.board.pedal(false);
    bench.board.advanceUs(BOUNCED_US);
    expect(bench.panel[1]).toBe('Press the pedal');
    bench.board.advanceUs(500_000);
    expect(bench.hear()).toMatchObject([{ type: 'ok' }]);
    for (let taps = 0; taps < 2; taps++) bench.tap();
    bench.turn(3);
    bench.turn(-3);
    bench.push();
    for (let taps = 0; taps < 2; taps++) bench.tap();
    expect(bench.panel.slice(1, 3)).toEqual(['Flash', 'bad sectors 2 of 96']);
  });
});

describe('a light that was asked for while the flash was busy', () => {
  const setClock = { type: 'set-clock', id: 0, epochMs: 1_800_000_000_000 } as const;
  /** What comes next in the log takes so many sectors beyond the one that is erased ahead, 45 ms each; it begins in number 1. */
  const slowLog = (bench: EveningBench, more: number) => wearOut(bench, 1, 1 + more);

  it('and called off is a light of nothing in the log, and the next tap gives it whole', () => {
    const bench = chosen('plain');
    bench.tap();
    // The mark of the clock is lost to three that are worn out.
    slowLog(bench, 2);
    bench.askAtOnce(setClock);
    quickTap(bench);
    expect(bench.panel[0]).toBe('Press: cancel');
    quickTap(bench);
    bench.seconds(10);
    expect(bench.pulses).toEqual([]);
    bench.tap();
    bench.seconds(40);
    expect(bench.pulses).toEqual([10_000_000]);
    expect(lights(bench)).toMatchObject([
      { onMs: 0, outcome: 'stopped' },
      { onMs: 10_000, outcome: 'complete' },
    ]);
  });

  it('in a pause, and called off, leaves the pass paused: its rest is of the same light', () => {
    const bench = chosen('plain');
    bench.tap();
    bench.tap();
    bench.seconds(3);
    bench.tap();
    bench.seconds(1);
    expect(bench.pulses).toHaveLength(1);
    slowLog(bench, 1);
    bench.board.pedal(true);
    bench.board.advanceUs(BOUNCED_US);
    bench.askAtOnce(setClock, 2000);
    bench.board.pedal(false);
    bench.board.advanceUs(BOUNCED_US);
    expect(bench.panel[0]).toBe('Press: cancel');
    quickTap(bench);
    bench.seconds(10);
    expect(bench.panel[0]).toBe('Tap go on Hold end');
    expect(bench.pulses).toHaveLength(1);
    bench.tap();
    bench.seconds(20);
    expect(lights(bench)).toMatchObject([
      { plannedMs: 10_000, doseMs: 10_000, outcome: 'complete', pauses: 1 },
    ]);
  });

  it('is refused where the log has no room for what waits, and given at the next tap', () => {
    const bench = chosen('plain');
    bench.tap();
    wearOut(bench, 0, 20);
    let waiting = 0;
    for (; waiting < 40; waiting++) {
      const epochMs = 1_800_000_000_000 + waiting;
      const [answer] = bench.askAtOnce({ type: 'set-clock', id: 0, epochMs });
      if (answer?.type === 'error') break;
    }
    expect(waiting).toBeLessThan(40);
    bench.board.pedal(true);
    bench.board.advanceUs(BOUNCED_US);
    bench.board.pedal(false);
    expect(heardIn(bench, 10)).toBe(WRONG);
    expect([bench.board.lampOn, bench.panel[3]]).toEqual([false, 'Log cannot be kept']);
    bench.tap();
    bench.tap();
    bench.seconds(20);
    expect(bench.pulses).toEqual([10_000_000]);
  });
});

describe('a shelf whose flash is worn out', () => {
  /** It gives up after three sectors each, until there is none that it has not tried. */
  function wornOut(bench: EveningBench): void {
    wearOut(bench, SHELF_AT, SHELF_SECTORS);
    for (let asked = 0; asked < SHELF_SECTORS / 3 + 1; asked++)
      bench.ask({ type: 'set-setting', id: 0, name: 'tone-volume', value: 30 + (asked % 2) });
  }

  it('leaves a setting that it does not take as it was', () => {
    const bench = chosen('plain', { 'lamp-lag-ms': 120 });
    wearOut(bench, SHELF_AT, SHELF_SECTORS);
    const [answer] = bench.ask({ type: 'set-setting', id: 0, name: 'lamp-lag-ms', value: 150 });
    expect(answer).toMatchObject({ type: 'error', text: 'the flash did not take it' });
    expect(bench.ask({ type: 'get-setting', id: 0, name: 'lamp-lag-ms' })).toMatchObject([{ value: 120 }]);
  });

  it('has nothing kept, and the panel says no longer that anything is', () => {
    const bench = chosen('plain');
    wornOut(bench);
    bench.tap();
    bench.tap();
    bench.seconds(20);
    const done = bench.panel;
    bench.holdKnob();
    expect(bench.panel[0]).toBe('Tap keep Hold rest');
    bench.push();
    expect(bench.panel).toEqual(done);
    expect(bench.ask({ type: 'recipe-list', id: 0 })).toMatchObject([
      { type: 'recipe-line', name: 'boathouse' },
      {},
    ]);
  });
});

describe('a print that is to be kept while something else is being kept in the background', () => {
  it('is refused, and stays as it is', () => {
    const bench = chosen('recipe');
    bench.tap();
    bench.push();
    bench.turn(1);
    bench.hold();
    bench.seconds(2);
    slowShelf(bench);
    bench.board.knobPush(true);
    bench.board.advanceUs(800_000 + 200 - 10_000);
    bench.askAtOnce(strip(5000, 7));
    bench.askAtOnce({ type: 'choose', id: 0, job: 'plain', name: '' });
    bench.board.advanceUs(10_000);
    expect(bench.panel[0]).toBe('Tap keep Hold rest');
    const fromUs = bench.board.nowUs;
    bench.board.pedal(true);
    bench.board.advanceUs(BOUNCED_US);
    bench.board.pedal(false);
    bench.board.knobPush(false);
    bench.seconds(3);
    expect(heardSince(bench, fromUs)).toBe(WRONG);
    expect(bench.ask({ type: 'recipe-list', id: 0 })).toMatchObject([
      { type: 'recipe-line', name: 'boathouse' },
      {},
    ]);
  });
});
