import { describe, expect, it } from 'vitest';
import { Random } from '../../../setup/random.js';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

/** A sheet that had part of its light was lost with the power: nothing of it lay in the flash but the log. */

function evening(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
  return bench;
}

function printing(): EveningBench {
  const bench = evening();
  bench.print(boathouse);
  bench.tap();
  return bench;
}

function light(bench: EveningBench, seconds: number): void {
  bench.answer();
  bench.tap();
  bench.seconds(seconds);
}

/** The base with its two dodges: three pieces of light. */
function giveBase(bench: EveningBench): void {
  for (let piece = 0; piece < 3; piece++) light(bench, 9);
}

function leftInPassTwo(): EveningBench {
  const bench = printing();
  giveBase(bench);
  light(bench, 5);
  bench.hold();
  bench.seconds(1);
  return bench;
}

function giveRest(bench: EveningBench): void {
  for (let taps = 0; taps < 24 && !/^Tap (again|sheet)/.test(bench.panel[0]!); taps++) light(bench, 40);
}

const lights = (bench: EveningBench) =>
  bench.log().flatMap((entry) => (entry.type === 'exposure' && entry.kind !== 'focus' ? [entry] : []));
const tallies = (bench: EveningBench) =>
  bench.log().flatMap((entry) => (/^sheet-(ended|resumed)/.test(entry.type) ? [entry] : []));

describe('a sheet that the power was cut from', () => {
  it('between two passes goes on with the next one, and the tally is right', () => {
    const bench = printing();
    giveBase(bench);
    expect(bench.panel[3]).toBe('Pass 2: sky');
    bench.offAndOn();
    expect(bench.panel).toEqual([
      ...['Tap go on Hold focus', 'Sheet 1 goes on', 'with pass 2/3', 'Turn: another sheet'],
    ]);
    bench.tap();
    expect(bench.panel).toEqual(['Filter in? Tap', 'Put in 00', '', 'Pass 2: sky']);
    giveRest(bench);
    expect(lights(bench)).toMatchObject([
      { boot: 1, sheet: 1, pass: 1, doseMs: 12_000, outcome: 'complete' },
      { boot: 2, sheet: 1, pass: 2, doseMs: 12_000, outcome: 'complete' },
      { boot: 2, sheet: 1, pass: 3, doseMs: 4_971, outcome: 'complete' },
    ]);
    expect(tallies(bench)).toMatchObject([
      { type: 'sheet-ended', boot: 2, sheet: 1, outcome: 'interrupted', wasted: 1 },
      { type: 'sheet-resumed', boot: 2, sheet: 1, prints: 0, wasted: 0 },
      { type: 'sheet-ended', boot: 2, sheet: 1, outcome: 'complete', prints: 1, wasted: 0 },
    ]);
  });

  it('in the middle of a light says the most that it can have had, and gives it again only when asked to', () => {
    const bench = printing();
    giveBase(bench);
    light(bench, 5);
    expect(bench.board.lampOn).toBe(true);
    bench.offAndOn();
    const pulses = bench.pulses.length;
    expect(bench.panel.slice(1, 3)).toEqual(['Sheet 1 goes on', 'was cut in pass 2/3']);
    bench.tap();
    expect(bench.panel).toEqual(['Tap yes Hold back', 'Give pass 2 again?', 'sky', 'Had at most 12.00 s']);
    bench.seconds(60);
    expect(bench.pulses).toHaveLength(pulses);
    giveRest(bench);
    expect(lights(bench).map(({ pass, outcome, doseMs }) => [pass, outcome, doseMs])).toEqual([
      [1, 'complete', 12_000],
      [2, 'interrupted', 0],
      [2, 'complete', 12_000],
      [3, 'complete', 4_971],
    ]);
  });

  it('in the middle of a light can be left as it is: the knob goes on to the next pass, and leaves none out', () => {
    const bench = printing();
    giveBase(bench);
    light(bench, 5);
    bench.offAndOn();
    bench.tap();
    bench.push();
    expect(bench.panel[3]).toBe('Pass 3: left edge');
    giveRest(bench);
    expect(lights(bench).map(({ pass, outcome }) => [pass, outcome])).toEqual([
      [1, 'complete'],
      [2, 'interrupted'],
      [3, 'complete'],
    ]);
    expect(bench.panel[3]).toBe('Sheet 1 done');
  });

  it('in its last light can be called done', () => {
    const bench = printing();
    giveBase(bench);
    light(bench, 40);
    light(bench, 2);
    expect(bench.board.lampOn).toBe(true);
    bench.offAndOn();
    bench.tap();
    expect(bench.panel.slice(1)).toEqual(['Give pass 3 again?', 'left edge', 'Had at most 4.97 s']);
    bench.push();
    expect(bench.panel[3]).toBe('Sheet 1 done');
    expect(tallies(bench).at(-1)).toMatchObject({ outcome: 'complete', prints: 1, wasted: 0 });
  });

  it('while another sheet was begun is not gone on with: which of them had light nobody can tell', () => {
    const bench = printing();
    giveBase(bench);
    bench.hold();
    bench.seconds(1);
    bench.turn(1);
    bench.tap();
    bench.answer();
    bench.board.pedal(true);
    bench.seconds(0.5);
    bench.offAndOn();
    bench.board.pedal(false);
    expect(entries(bench, 'sheet')).toMatchObject([{ sheet: 1 }, { sheet: 2 }]);
    expect(bench.panel[1]).not.toContain('goes on');
  });

  it('after it was gone on with was wasted as any other: the log says so', () => {
    const bench = leftInPassTwo();
    bench.tap();
    expect(bench.panel[0]).toBe('Tap start Hold back');
    bench.seconds(3);
    bench.offAndOn();
    expect(tallies(bench)).toMatchObject([
      { type: 'sheet-ended', boot: 1, outcome: 'stopped', wasted: 1 },
      { type: 'sheet-resumed', boot: 1, wasted: 0 },
      { type: 'sheet-ended', boot: 2, outcome: 'interrupted', wasted: 1 },
    ]);
  });

  it('in one pass, and then in the next that was chosen, has had part of both', () => {
    const bench = printing();
    giveBase(bench);
    light(bench, 5);
    bench.offAndOn();
    // From here on nothing more of the sheet comes to lie on the desk.
    bench.seconds(2);
    for (let sector = 0; sector < 96; sector++) bench.board.flash.wearOut(0x12_0000 / 4096 + sector);
    bench.tap();
    bench.push();
    expect(bench.panel[3]).toBe('Pass 3: left edge');
    light(bench, 2);
    expect(bench.board.lampOn).toBe(true);
    bench.offAndOn();
    expect(bench.panel.slice(1, 3)).toEqual(['Sheet 1 goes on', 'was cut in pass 3/3']);
    bench.tap();
    expect(bench.panel.slice(1)).toEqual(['Give pass 3 again?', 'left edge', 'Had at most 4.97 s']);
  });

  it('in its first light was begun all the same', () => {
    const bench = printing();
    light(bench, 1);
    expect(bench.board.lampOn).toBe(true);
    bench.offAndOn();
    bench.tap();
    expect(bench.panel.slice(1, 2)).toEqual(['Give pass 1 again?']);
    expect(bench.panel[3]).toBe('Had at most 12.00 s');
  });

  it('in a pause can have had more than the board knows', () => {
    const bench = printing();
    giveBase(bench);
    light(bench, 5);
    bench.tap();
    bench.seconds(3);
    expect(bench.panel[0]).toBe('Tap go on Hold end');
    bench.offAndOn();
    bench.tap();
    expect(bench.panel.slice(1)).toEqual(['Give pass 2 again?', 'sky', 'Had at most 12.00 s']);
  });

  it('after it was left in the middle of a pass gets the rest of that', () => {
    const bench = leftInPassTwo();
    bench.offAndOn();
    bench.offAndOn();
    expect(bench.panel.slice(1, 3)).toEqual(['Sheet 1 goes on', 'rest of pass 2/3']);
    bench.tap();
    giveRest(bench);
    const sky = lights(bench).filter(({ pass }) => pass === 2);
    expect(sky.reduce((sum, { doseMs }) => sum + doseMs, 0)).toBe(12_000);
    expect(tallies(bench)).toMatchObject([
      { boot: 1, outcome: 'stopped', wasted: 1 },
      { boot: 3, type: 'sheet-resumed', wasted: 0 },
      { boot: 3, outcome: 'complete', prints: 1, wasted: 0 },
    ]);
  });

  // It said 'at most' of the rest alone, and a whole pass more was given to what had had nearly one.
  it('in the rest of a pass can have had all of that pass', () => {
    const bench = leftInPassTwo();
    bench.tap();
    light(bench, 3);
    expect(bench.board.lampOn).toBe(true);
    bench.offAndOn();
    expect(bench.panel[2]).toBe('was cut in pass 2/3');
    bench.tap();
    expect(bench.panel.slice(1)).toEqual(['Give pass 2 again?', 'sky', 'Had at most 12.00 s']);
  });

  it('twice in the same pass can have had it twice', () => {
    const bench = printing();
    giveBase(bench);
    for (let cut = 0; cut < 2; cut++) {
      light(bench, 5);
      expect(bench.board.lampOn).toBe(true);
      bench.offAndOn();
      bench.tap();
    }
    expect(bench.panel.slice(1)).toEqual(['Give pass 2 again?', 'sky', 'Had at most 24.00 s']);
  });

  it('in its first light is given from the recipe as the knob had turned it before', () => {
    const bench = printing();
    bench.turn(1);
    bench.tap();
    light(bench, 1);
    bench.offAndOn();
    expect(bench.panel[2]).toBe('was cut in pass 1/3');
    bench.tap();
    // 12 x 2^(1/12), by definition.
    expect(bench.panel[3]).toBe('Had at most 12.71 s');
  });

  it('with a pass chosen to be given again is asked about once more: nobody may remember the answer', () => {
    const bench = printing();
    giveBase(bench);
    bench.turn(-1);
    bench.turn(-1);
    expect(bench.panel.slice(0, 2)).toEqual(['Tap yes Hold back', 'Give pass 1 again?']);
    bench.tap();
    expect(bench.panel[0]).toBe('Tap start Hold back');
    bench.seconds(1);
    bench.offAndOn();
    bench.tap();
    expect(bench.panel.slice(0, 2)).toEqual(['Tap yes Hold back', 'Give pass 1 again?']);
    const pulses = bench.pulses.length;
    bench.seconds(60);
    expect(bench.pulses).toHaveLength(pulses);
    bench.push();
    giveRest(bench);
    expect(lights(bench).map(({ pass }) => pass)).toEqual([1, 2, 3]);
  });

  it('with a patch of a lamp test left out comes back to it when the knob says so', () => {
    const bench = evening();
    bench.ask({ type: 'choose', id: 0, job: 'lamp-test', name: '' });
    bench.tap();
    light(bench, 20);
    bench.turn(1);
    expect(bench.panel[1]).toBe('Leave out patch 1?');
    bench.tap();
    bench.seconds(1);
    bench.offAndOn();
    // Its pulses are no whole number of milliseconds, and it was taken for partly given.
    expect(bench.panel[2]).toBe('with patch 2/7');
    bench.tap();
    expect(bench.panel.slice(0, 2)).toEqual(['Tap yes Hold back', 'Leave out patch 1?']);
    bench.push();
    light(bench, 20);
    expect(lights(bench).map(({ patch }) => patch)).toEqual([0, 1]);
  });

  // Its sheet counts seven patches beside a long one; what was left, and what is asked, told of eight passes.
  it('is told of in the words of its own sheet, a lamp test as well', () => {
    const bench = evening();
    bench.ask({ type: 'choose', id: 0, job: 'lamp-test', name: '' });
    bench.tap();
    light(bench, 2);
    bench.offAndOn();
    expect(bench.panel[2]).toBe('was cut in long one');
    bench.tap();
    const most = 'Had at most 4.00 s';
    expect(bench.panel).toEqual(['Tap yes Hold back', 'Give long one again?', '', most]);
    bench.push();
    expect(bench.panel.slice(2)).toEqual(['Cover all but this', 'Patch 1/7 0 ms']);
    light(bench, 20);
    bench.turn(1);
    expect(bench.panel.slice(1)).toEqual(['Leave out patch 2?', '', 'Next: patch 3/7']);
    bench.turn(-2);
    expect(bench.panel.slice(1)).toEqual(['Give patch 1 again?', '', 'Same sheet']);
    bench.turn(1);
    expect(bench.panel.slice(1)).toEqual(['Turn: another pass', '', 'Next: patch 2/7']);
    bench.tap();
    light(bench, 2);
    bench.offAndOn();
    expect(bench.panel[2]).toBe('was cut in patch 2/7');
    bench.tap();
    expect(bench.panel[1]).toBe('Give patch 2 again?');
  });

  it('is a strip as well, and can be read when it has all its patches', () => {
    const bench = evening();
    bench.tap();
    light(bench, 3);
    light(bench, 3);
    bench.offAndOn();
    expect(bench.panel.slice(1, 3)).toEqual(['Sheet 1 goes on', 'with patch 3/6']);
    bench.tap();
    expect(bench.panel.slice(2)).toEqual(['Cover one more patch', 'Patch 3/6 8.00 s']);
    giveRest(bench);
    bench.push();
    expect(bench.panel[0]).toBe('Tap accept Hold rest');
    expect(lights(bench).map(({ patch }) => patch)).toEqual([1, 2, 3, 4, 5, 6]);
  });

  it('is given from the recipe as the knob had turned it', () => {
    const bench = printing();
    bench.turn(1);
    bench.tap();
    giveBase(bench);
    bench.offAndOn();
    bench.tap();
    giveRest(bench);
    // 12 x 2^(1/12), and the burns about it: by definition.
    expect(lights(bench).map(({ doseMs }) => doseMs)).toEqual([12_714, 12_714, 5_266]);
  });

  it('is not gone on with from a recipe that has changed since: it would be another light', () => {
    const bench = printing();
    giveBase(bench);
    bench.hold();
    bench.seconds(1);
    bench.print({ ...boathouse, baseMs: 20_000 });
    bench.seconds(1);
    bench.offAndOn();
    bench.tap();
    expect(bench.panel[0]).not.toMatch(/start|Filter/);
    expect(bench.pulses).toHaveLength(3);
  });

  it('is not gone on with from a recipe of one light that is another since', () => {
    const bench = evening();
    const [{ dodges: _, ...base }] = boathouse.passes as [(typeof boathouse.passes)[0]];
    const one = { ...boathouse, passes: [base] };
    bench.print(one);
    bench.tap();
    light(bench, 5);
    bench.hold();
    bench.seconds(1);
    bench.print({ ...one, baseMs: 20_000 });
    bench.seconds(1);
    bench.offAndOn();
    expect(bench.panel[1]).toBe('Sheet 1 goes on');
    bench.tap();
    expect(bench.panel[0]).not.toMatch(/start|Filter/);
    expect(bench.pulses).toHaveLength(1);
  });

  it('in a pause goes on with what was turned last before its light', () => {
    const bench = evening();
    bench.ask({ type: 'choose', id: 0, job: 'plain', name: '' });
    bench.tap();
    bench.seconds(3);
    bench.turn(1);
    bench.seconds(0.3);
    bench.turn(1);
    const turned = bench.panel[1]!.split(' s')[0];
    expect(turned).not.toBe('10.00');
    bench.tap();
    bench.seconds(1);
    bench.tap();
    bench.seconds(3);
    expect(bench.panel[0]).toBe('Tap go on Hold end');
    bench.offAndOn();
    bench.tap();
    expect(bench.panel[3]).toBe(`Had at most ${turned} s`);
    bench.answer();
    expect(bench.panel[1]).toBe(`${turned} s`);
  });

  it('is forgotten once another was begun, or it had all its light', () => {
    const bench = printing();
    giveBase(bench);
    bench.hold();
    bench.turn(1);
    bench.tap();
    giveRest(bench);
    bench.offAndOn();
    expect(bench.panel[1]).not.toContain('goes on');
  });

  it('was none where it saw no light', () => {
    const bench = printing();
    bench.answer();
    bench.offAndOn();
    expect(bench.panel[1]).not.toContain('goes on');
    expect(tallies(bench)).toEqual([]);
  });

  it.each(['safelight-test', 'stray-light-test'] as const)(
    'for a %s is done anew: its minutes went by',
    (job) => {
      for (const [lit, isHeld] of [
        [0.5, false],
        [5, false],
        [0.5, true],
        [5, true],
      ] as const) {
        const bench = evening();
        bench.ask({ type: 'choose', id: 0, job, name: '' });
        const before = bench.panel;
        bench.tap();
        // Long enough for the desk to be written.
        bench.seconds(3);
        light(bench, lit);
        if (isHeld) bench.hold();
        bench.seconds(isHeld ? 3 : 0);
        if (isHeld) expect(bench.panel).toEqual(before);
        bench.offAndOn();
        expect(bench.panel[1]).not.toContain('goes on');
      }
    },
  );
});

const SEED = 1405;

describe('what lies on the desk, with the power cut into each change of the flash', () => {
  /** How much of the change under way is done: nothing, all, or some of its bits. */
  const tearings = [() => () => false, () => () => true, (at: number) => bitsOf(new Random(SEED + at))];
  const bitsOf = (random: Random) => () => random.chance(0.5);

  /** After the second patch, cut in that change after it; false where there is none so late. */
  function cutAfterPatch(operation: number, tear: () => boolean): EveningBench | undefined {
    const bench = evening();
    bench.ask({
      ...{ type: 'strip-set', id: 0, firstMs: 3000, stepStops120: 40, stepMs: 0, patches: 7 },
      ...{ cover: 'separate', filter: '' },
    });
    bench.tap();
    light(bench, 5);
    bench.tap();
    bench.seconds(1);
    bench.board.flash.cutPowerAfter(operation, tear);
    const before = bench.board.flash.operations;
    bench.seconds(4);
    if (bench.board.flash.operations - before <= operation) return undefined;
    bench.board.restorePower();
    bench.seconds(1);
    return bench;
  }

  for (const [which, tearing] of tearings.entries())
    it(`the sheet goes on, or its patch is asked about, and the strip is as it was set (${which}, seed ${SEED})`, () => {
      let operation = 0;
      for (; ; operation++) {
        const bench = cutAfterPatch(operation, tearing(operation));
        if (bench === undefined) break;
        expect(bench.panel[1], `change ${operation}`).toBe('Sheet 1 goes on');
        expect(bench.panel[2], `change ${operation}`).toMatch(/^(with patch 3|was cut in patch 2)\/7$/);
        bench.turn(1);
        expect(bench.panel.slice(1, 3), `change ${operation}`).toEqual(['3.00 s first', '7 patches, 1/3 st']);
      }
      expect(operation, 'changes of the flash after a patch').toBeGreaterThan(4);
    });

  for (const [which, tearing] of tearings.entries())
    it(`a strip is as it was or as it was set, and once that is answered as it was set (${which}, seed ${SEED})`, () => {
      let cuts = 0;
      for (let operation = 0; ; operation++) {
        const bench = evening();
        bench.board.flash.cutPowerAfter(operation, tearing(operation));
        const before = bench.board.flash.operations;
        const said = bench.ask({
          ...{ type: 'strip-set', id: 0, firstMs: 3000, stepStops120: 40, stepMs: 0, patches: 7 },
          ...{ cover: 'separate', filter: '3' },
        });
        const isCut = bench.board.flash.operations - before > operation;
        bench.board.cutPower();
        bench.board.restorePower();
        bench.seconds(1);
        const isSet = bench.panel[2] === '7 patches, 1/3 st';
        if (!isSet) expect(bench.panel[2], `change ${operation}`).toBe('6 patches, 1 st');
        if (said.some(({ type }) => type === 'ok')) expect(isSet, `change ${operation}`).toBe(true);
        if (!isCut) break;
        cuts++;
      }
      expect(cuts).toBeGreaterThan(2);
    });

  /** A print of one light, cut in that change of the flash after it ended so; undefined where there is none so late. */
  function cutAfterSheet(end: (bench: EveningBench) => void, operation: number): EveningBench | undefined {
    const bench = evening();
    bench.print({ ...boathouse, baseMs: 2000, passes: boathouse.passes.slice(1, 2) });
    bench.tap();
    bench.answer();
    bench.tap();
    bench.board.flash.cutPowerAfter(operation, () => false);
    const before = bench.board.flash.operations;
    end(bench);
    bench.seconds(8);
    if (bench.board.flash.operations - before <= operation) return undefined;
    bench.offAndOn();
    return bench;
  }

  it.each([
    ['had all its light', 'complete', () => {}],
    ['was left', 'stopped', (bench: EveningBench) => bench.hold()],
  ] as const)(
    'a sheet that %s is ended once in the log, and goes on for as long as its light was not whole',
    (_, outcome, end) => {
      const seen = new Set<string>();
      for (let operation = 0; ; operation++) {
        const bench = cutAfterSheet(end, operation);
        if (bench === undefined) break;
        const [light] = lights(bench);
        const ended = entries(bench, 'sheet-ended').map((entry) => 'outcome' in entry && entry.outcome);
        const isDone = light!.outcome === 'complete';
        expect(bench.panel[1]!.includes('goes on'), `change ${operation}`).toBe(!isDone);
        // One that had all its light may have been cut before the log had its end.
        if (!isDone) expect(ended, `change ${operation}`).toHaveLength(1);
        else expect(ended.filter((said) => said !== 'complete')).toEqual([]);
        seen.add(ended.includes(outcome) ? 'logged' : 'cut');
      }
      expect(seen.size).toBe(2);
    },
  );
});
