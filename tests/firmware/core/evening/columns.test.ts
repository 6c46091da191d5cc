import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { limits } from '../../../../shared-protocol/index.js';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { type BenchRecipe, EveningBench } from './evening-bench.js';

const COLUMNS = limits.displayColumns;
/** As long as the schema lets people write. */
const LABEL = 'Bootshaus-Treppe'; // 16
const FILTER = 'Y130 M45'; // 8
const NAME = 'skelder-mere-at-dusk'; // 20
const core = join(projectRoot, 'firmware/core');
const isShown = (file: string) => /^(panel|rows)\/|^jobs\/.*(rows|kinds-shown)\.ts$/.test(file);

const longest: BenchRecipe = {
  name: NAME,
  baseMs: 60_000,
  passes: [
    {
      ...{ kind: 'base', label: LABEL, filter: FILTER, stops120: 0 },
      dodges: Array.from({ length: 12 }, () => ({ label: LABEL, stops120: -10 })),
    },
    ...Array.from(
      { length: 11 },
      () => ({ kind: 'burn', label: LABEL, filter: FILTER, stops120: 40 }) as const,
    ),
  ],
};

function evening(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.print(longest);
  bench.focusAndStopDown();
  bench.seconds(1);
  return bench;
}

describe("the panel's twenty columns", () => {
  it('hold every text of the core by itself', () => {
    const texts = readdirSync(core, { recursive: true, encoding: 'utf8' })
      .filter((file) => isShown(file) && !file.endsWith('plain-letters.ts') && file.endsWith('.ts'))
      .flatMap((file) =>
        [...readFileSync(join(core, file), 'utf8').matchAll(/ascii\('([^']*)'\)/g)].map(([, text]) => text!),
      );
    expect(texts.length).toBeGreaterThan(100);
    expect(texts.filter((text) => text.length > COLUMNS)).toEqual([]);
  });

  it('hold a print with the longest name, labels, filters and numbers', () => {
    const bench = evening();
    expect(bench.panel.slice(1, 3)).toEqual(['60.00 s base', NAME]);
    bench.tap();
    expect(bench.panel.slice(1)).toEqual([`Put in ${FILTER}`, '', 'Pass 1: Bootshaus-Tr']);
    bench.answer();
    expect(bench.panel.slice(1)).toEqual(['3.37 s      Y130 M45', LABEL, 'Dodge 1/12, 1/12']);
    for (let taps = 0; taps < 12; taps++) {
      bench.tap();
      bench.seconds(30);
    }
    expect(bench.panel.slice(1)).toEqual(['19.58 s     Y130 M45', LABEL, 'Base, pass 1/12']);
    for (let taps = 0; taps < 11; taps++) {
      bench.tap();
      bench.seconds(30);
    }
    expect(bench.panel.slice(2)).toEqual([LABEL, 'Burn, pass 12/12']);
    bench.turn(-1);
    expect(bench.panel.slice(1)).toEqual(['Give pass 11 again?', LABEL, 'Same sheet, 11/12']);
  });

  it('hold a bracket of the most versions about the longest label', () => {
    const bench = evening();
    bench.turn(1);
    expect(bench.panel.slice(2)).toEqual(['5 variants, 1/6 st', `of ${LABEL}`]);
    bench.tap();
    bench.push();
    expect(bench.panel.slice(1)).toEqual([LABEL, '5 variants, 1/6 st', 'Knob: which pass']);
    bench.push();
    bench.turn(-1);
    bench.push();
    bench.turn(4);
    expect(bench.panel.slice(1)).toEqual(['9', '9 variants, 1/12 st', 'Knob: patches']);
    for (let taps = 0; taps < 24; taps++) {
      bench.answer();
      bench.tap();
      bench.seconds(61);
    }
    expect(bench.panel.slice(2)).toEqual(['Cover one more patch', `Burn 13/20: 2/9 ${LABEL}`.slice(0, 20)]);
  });

  it('hold a strip of the most patches and an hour', () => {
    const bench = evening();
    bench.ask({
      ...{ type: 'strip-set', id: 0, firstMs: 3_599_000, stepStops120: 0, stepMs: 80, patches: 12 },
      cover: 'separate',
      filter: FILTER,
    });
    expect(bench.panel.slice(1, 3)).toEqual(['3599 s      Y130 M45', '12 patches, 0.08 s']);
    bench.tap();
    bench.answer();
    bench.tap();
    bench.seconds(3601);
    bench.turn(10);
    expect(bench.panel.slice(1)).toEqual(['Leave out 10 of 12?', '', 'Next: patch 12/12']);
    bench.answer();
    expect(bench.panel.slice(1)).toEqual([
      '3600 s      Y130 M45',
      'Cover all but this',
      'Patch 12/12 3600 s',
    ]);
    bench.tap();
    bench.seconds(3601);
    bench.turn(1);
    bench.turn(10);
    expect(bench.panel.slice(2)).toEqual(['Between 11 and 12', 'Knob: which is right']);
  });

  it('hold baths of the longest label and time, with as many sheets as go in', () => {
    const bench = evening();
    bench.ask({
      ...{ type: 'bath-set', id: 0, bath: 1, baths: 1, label: LABEL, limitCm2: 10 },
      ...{ resinCoatedSeconds: 65_535, fibreSeconds: 65_535, drainSeconds: 255, agitationSeconds: 0 },
    });
    bench.turn(-3);
    expect(bench.panel.slice(1)).toEqual(['1092:15', LABEL, 'Used up: mix fresh']);
    bench.tap();
    expect(bench.panel.slice(1)).toEqual(['1092:15', LABEL, 'Used up: mix fresh']);
    bench.push();
    bench.push();
    bench.turn(11);
    expect(bench.panel[1]).toBe('12 sheets, used up');
    bench.tap();
    expect(bench.panel.slice(1)).toEqual(['1088:00', LABEL, 'Bath 1/1, 12 sheets']);
    bench.seconds(65_281);
    expect(bench.panel[1]).toBe('4:14 lift, drain');
  });

  it('hold a print that is kept, under the longest name, and a strip for it', () => {
    const bench = evening();
    bench.holdKnob();
    expect(bench.panel).toEqual(['Tap keep Hold rest', 'Turn: another name', NAME, 'is kept as it is']);
    bench.turn(24);
    expect(bench.panel.slice(2)).toEqual(['negative-24', 'new on the board']);
    bench.holdKnob();
    bench.turn(-1);
    expect(bench.panel[3]).toBe(`for ${NAME}`.slice(0, COLUMNS).trimEnd());
  });

  it('hold a plain exposure of an hour, and the clock far from UTC', () => {
    const bench = evening();
    bench.ask({ type: 'choose', id: 0, job: 'plain', name: '' });
    bench.tap();
    for (let pushes = 0; pushes < 3; pushes++) bench.push();
    bench.turn(9);
    expect(bench.panel.slice(1)).toEqual(['10.00 s     filter 4', 'Plain exposure', 'Knob: filter']);
    bench.turn(1);
    bench.push();
    for (let turns = 0; turns < 40; turns++) bench.turn(24);
    expect(bench.panel.slice(1)).toEqual(['3600 s  filter 4 1/2', 'Plain exposure', 'Knob: time, seconds']);
    bench.hold();
    bench.ask({ type: 'set-setting', id: 0, name: 'zone-minutes', value: -585 });
    bench.ask({ type: 'choose', id: 0, job: 'clock', name: '' });
    bench.tap();
    for (let pushes = 0; pushes < 5; pushes++) bench.push();
    expect(bench.panel.slice(1)).toEqual(['2027-01-01 20:00', 'UTC -9:45', 'Knob: ahead of UTC']);
  });

  it('hold the lags of the lamp test at either end', () => {
    const bench = evening();
    bench.turn(9);
    bench.turn(-1);
    bench.tap();
    bench.push();
    bench.turn(24);
    bench.turn(24);
    bench.hold();
    expect(bench.panel.slice(2)).toEqual(['Lamp test', '880 to 1000 ms lag']);
    bench.tap();
    for (let taps = 0; taps < 7; taps++) {
      bench.tap();
      bench.seconds(40);
    }
    expect(bench.panel.slice(1)).toEqual(['16 x 1.19 s test', 'Cover all but this', 'Patch 7/7 1000 ms']);
  });
});
