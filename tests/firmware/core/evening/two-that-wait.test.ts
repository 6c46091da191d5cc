import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { limits } from '../../../../shared-protocol/limits.js';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

// More than one thing waits for the flash, which is slow since sectors of the log are worn out. No outside source: whatever a
// hand turned or a laptop sent is there after the power was off, and no light is without its entry.

const frozen: Readonly<Record<string, number | string>> = JSON.parse(
  readFileSync(join(projectRoot, 'shared-protocol/frozen-formats.json'), 'utf8'),
);
/** As short as a contact is heard (common practice: switches bounce for up to 15 ms). */
const BOUNCED_US = 26_000;
/** A little longer than a hold takes, by README. */
const HELD_US = 810_000;

function evening(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  for (const name of ['lens-check', 'confirm-filter'] as const)
    bench.ask({ type: 'set-setting', id: 0, name, value: 0 });
  bench.seconds(1);
  return bench;
}

/** So many entries that are lost to three sectors each, of 45 ms; the shelf and what is logged behind them wait. */
function keepFlashBusy(bench: EveningBench, entries: number): void {
  for (let sector = 0; sector <= 3 * entries; sector++) bench.board.flash.wearOut(sector);
  for (let entry = 0; entry < entries; entry++)
    expect(bench.askAtOnce({ type: 'set-clock', id: 0, epochMs: 1_800_000_000_000 + entry })).toMatchObject([
      { type: 'ok' },
    ]);
}

function quickly(change: (down: boolean) => void, bench: EveningBench): void {
  for (const down of [true, false]) {
    change(down);
    bench.board.advanceUs(BOUNCED_US);
  }
}
const quickPush = (bench: EveningBench) => quickly((down) => bench.board.knobPush(down), bench);
const quickTap = (bench: EveningBench) => quickly((down) => bench.board.pedal(down), bench);

function offAndOn(bench: EveningBench): void {
  bench.seconds(5);
  bench.offAndOn();
}

function turnPaper(bench: EveningBench): void {
  bench.askAtOnce({ type: 'choose', id: 0, job: 'process', name: '' });
  quickTap(bench);
  for (let pushes = 0; pushes < 9 && bench.panel[3] !== 'Knob: paper'; pushes++) quickPush(bench);
  bench.turn(1);
  expect(bench.panel[1]).toBe('Fibre');
}

const isFibre = (bench: EveningBench) => bench.ask({ type: 'get-setting', id: 0, name: 'fibre-paper' });

describe('what waits for the shelf together is kept, each as it was:', () => {
  it('a paper and a bath mixed fresh', () => {
    const bench = evening();
    const times = {
      resinCoatedSeconds: 20,
      fibreSeconds: 20,
      drainSeconds: 0,
      agitationSeconds: 0,
      limitCm2: 0,
    };
    bench.ask({ type: 'bath-set', id: 0, bath: 1, baths: 1, label: 'developer', ...times });
    bench.ask({ type: 'choose', id: 0, job: 'process', name: '' });
    bench.tap();
    bench.tap();
    bench.seconds(30);
    turnPaper(bench);
    keepFlashBusy(bench, 3);
    quickPush(bench);
    expect(bench.panel.slice(1)).toEqual(['1 sheet so far', 'developer', 'Knob: mixed fresh']);
    bench.turn(1);
    quickPush(bench);
    expect(bench.panel[3]).not.toContain('fresh');
    offAndOn(bench);
    expect(isFibre(bench)).toMatchObject([{ value: 1 }]);
    expect(bench.ask({ type: 'bath-get', id: 0, bath: 1 })).toMatchObject([{ type: 'bath', sheets: 0 }]);
  });

  it('a paper and a base that was found, which is set aside for another recipe', () => {
    const bench = evening();
    bench.send({ ...boathouse, name: 'other' });
    bench.print(boathouse);
    bench.ask({
      ...{ type: 'strip-set', id: 0, firstMs: 8000, stepStops120: 60, stepMs: 0 },
      ...{ patches: 3, cover: 'separate', filter: '' },
    });
    bench.tap();
    for (let patch = 1; patch <= 3; patch++) {
      bench.tap();
      bench.seconds(60);
    }
    bench.push();
    bench.turn(-9);
    bench.turn(2);
    bench.push();
    bench.seconds(2);
    keepFlashBusy(bench, 10);
    expect(bench.askAtOnce({ type: 'name-set', id: 0, name: 'by the sink' })).toEqual([]);
    turnPaper(bench);
    quickPush(bench);
    bench.board.pedal(true);
    bench.board.advanceUs(HELD_US);
    expect(bench.askAtOnce({ type: 'choose', id: 0, job: 'recipe', name: 'other' })).toMatchObject([
      { type: 'ok' },
    ]);
    expect(bench.hear()).toEqual([]);
    bench.board.pedal(false);
    offAndOn(bench);
    expect(isFibre(bench)).toMatchObject([{ value: 1 }]);
    expect(bench.ask({ type: 'name-get', id: 0 })).toMatchObject([{ name: 'by the sink' }]);
    const names = bench
      .ask({ type: 'recipe-list', id: 0 })
      .flatMap((line) => (line.type === 'recipe-line' ? [line.name] : []));
    expect(names).toEqual(['boathouse', 'negative-1', 'other']);
  });
});

it('a light that is asked for anew, after it was called off before the log had it, has its own entry before the lamp is on', () => {
  const bench = evening();
  bench.tap();
  keepFlashBusy(bench, 2);
  for (const prompt of ['Press: cancel', 'Tap start Hold back', 'Press: cancel']) {
    quickTap(bench);
    expect(bench.panel[0]).toBe(prompt);
  }
  for (let steps = 0; steps < 20_000 && !bench.board.lampOn; steps++) bench.board.advanceUs(50);
  expect(bench.board.lampOn).toBe(true);
  bench.offAndOn();
  expect(entries(bench, 'exposure')).toMatchObject([
    { outcome: 'stopped', onMs: 0 },
    { outcome: 'interrupted' },
  ]);
});

/** What lies on the flash of each light that was begun, behind its number and its time. */
function begunOnFlash({ board: { flash } }: EveningBench): string[] {
  const [BEGUN, HEADER_BYTES, NUMBER_AND_TIME] = [1, 16, 8];
  const begun: string[] = [];
  for (let at = 0; at < 284 * limits.sectorBytes; at += 32) {
    const header = Buffer.from(flash.read(at, HEADER_BYTES));
    if (at % limits.sectorBytes === 0 || header[0] !== BEGUN || header[1] !== frozen['log entry/exposure'])
      continue;
    const payload = flash.read(at + HEADER_BYTES, header.readUInt16LE(2));
    begun.push(Buffer.from(payload.slice(NUMBER_AND_TIME)).toString('hex'));
  }
  return begun;
}

it('a light that was asked for twice and called off lies on the flash twice, to the byte, wherever it waited', () => {
  const bench = evening();
  bench.tap();
  keepFlashBusy(bench, 2);
  for (let taps = 0; taps < 4; taps++) quickTap(bench);
  bench.seconds(5);
  expect(bench.pulses).toEqual([]);
  const [one, other, ...more] = begunOnFlash(bench);
  expect(one).toBeDefined();
  expect(other).toBe(one);
  expect(more).toEqual([]);
});
