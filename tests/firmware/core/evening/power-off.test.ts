import { describe, expect, it } from 'vitest';
import { limits } from '../../../../shared-protocol/index.js';
import { boathouse } from './boathouse.js';
import { EveningBench } from './evening-bench.js';

function evening(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.focusAndStopDown();
  return bench;
}

function giveAll(bench: EveningBench): void {
  for (let taps = 0; taps < 24 && !bench.panel[0]!.startsWith('Tap again'); taps++) {
    bench.answer();
    bench.tap();
    bench.seconds(70);
  }
}

/** Off and on again, with the lens as it was. */
function powerOff(bench: EveningBench): void {
  bench.offAndOn();
  bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
}

describe('over power-off', () => {
  it('a strip that was given can still be read, and the base that it finds is told with its sheet', () => {
    const bench = evening();
    bench.tap();
    giveAll(bench);
    expect(bench.panel[3]).toBe('Sheet 1: turn knob');
    powerOff(bench);
    expect(bench.panel.slice(2)).toEqual(['6 patches, 1 st', 'Push knob: read it']);
    bench.push();
    bench.turn(2);
    expect(bench.panel.slice(1, 3)).toEqual(['22.63 s', 'Between 4 and 5']); // 16 x 2^(1/2), by definition
    bench.push();
    expect(bench.log().filter(({ type }) => type === 'strip-reading')).toMatchObject([
      { boot: 2, sheet: 1, verdict: 'between', patch: 4, doseMs: 22_627 },
    ]);
    bench.tap();
    giveAll(bench);
    expect(bench.panel[3]).toBe('Sheet 2: turn knob');
  });

  it('a base that was found, and the strip proposed about it, are there again', () => {
    const bench = evening();
    bench.tap();
    giveAll(bench);
    bench.push();
    bench.turn(2);
    bench.push();
    bench.seconds(2);
    const proposed = bench.panel;
    powerOff(bench);
    expect(bench.panel).toEqual(proposed);
    bench.turn(1);
    expect(bench.panel.slice(1)).toEqual(['22.63 s base', 'negative-1', 'Hold knob: keep it']);
  });

  it('a recipe as the knob changed it is there again, and as the shelf has it once another is taken', () => {
    const bench = evening();
    bench.print(boathouse);
    bench.tap();
    bench.turn(1);
    bench.holdKnob();
    bench.seconds(2);
    powerOff(bench);
    expect(bench.panel.slice(1)).toEqual(['12.71 s base', 'boathouse', 'Hold knob: keep it']);
    bench.ask({ type: 'choose', id: 0, job: 'recipe', name: 'boathouse' });
    bench.seconds(2);
    powerOff(bench);
    expect(bench.panel.slice(1)).toEqual(['2.00 s first', '6 patches, 1 st', '']);
  });

  it('a bracket that was given can still be read, of the recipe that it is of', () => {
    const bench = evening();
    bench.print(boathouse);
    bench.turn(1);
    bench.tap();
    giveAll(bench);
    powerOff(bench);
    expect(bench.panel.slice(2)).toEqual(['5 variants, 1/6 st', 'Push knob: read it']);
    bench.push();
    bench.turn(-1);
    bench.push();
    expect(bench.panel).toEqual(['Tap print Hold focus', '12.00 s base', 'boathouse', 'Hold knob: keep it']);
  });

  it('the strip that the laptop set is there again', () => {
    const bench = evening();
    bench.ask({
      ...{ type: 'strip-set', id: 0, firstMs: 3000, stepStops120: 40, stepMs: 0, patches: 7 },
      ...{ cover: 'separate', filter: '3' },
    });
    powerOff(bench);
    expect(bench.panel.slice(1, 3)).toEqual(['3.00 s      filter 3', '7 patches, 1/3 st']);
  });
});

/** Turns over a bit of the document's body on the flash; its name stands 31 bytes into a sector, the body 64. */
function rot(bench: EveningBench, name: string): void {
  const { flash } = bench.board;
  const named = Buffer.from([name.length, ...Buffer.from(name)]);
  for (let sector = 0; sector < flash.size; sector += limits.sectorBytes)
    if (named.equals(flash.read(sector + 31, named.length))) flash.flipBits(sector + 64, 0x04);
}

describe('what a printer set, when a bit of it has rotted', () => {
  // It fell back to first values without a word: a lamp's lag of 0 ms, and every short light was wrong.
  it.each([
    ['settings', { type: 'set-setting', id: 0, name: 'lamp-lag-ms', value: 120 }],
    ['baths', { type: 'bath-renew', id: 0, bath: 1 }],
  ] as const)('%s are told at rest after power-up, until the evening goes on', (name, change) => {
    const bench = new EveningBench();
    bench.greet();
    bench.ask(change);
    powerOff(bench);
    expect(bench.panel[3]).toBe('');
    rot(bench, name);
    bench.board.cutPower();
    bench.board.restorePower();
    bench.seconds(1);
    expect(bench.panel[3]).toBe('Check settings/baths');
    bench.hold();
    bench.tap();
    expect(bench.panel[3]).not.toBe('Check settings/baths');
  });
});
