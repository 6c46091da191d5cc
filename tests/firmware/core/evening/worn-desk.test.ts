import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { EveningBench } from './evening-bench.js';

/** A shelf that is worn out takes nothing more of a sheet: what the log says has to do, and it says of each light which pass it was. */

const SHELF_AT = 0x12_0000 / 4096;
const SHELF_SECTORS = 96;

function evening(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
  bench.ask({ type: 'set-setting', id: 0, name: 'confirm-filter', value: 0 });
  return bench;
}

/** At the first light; from here on nothing comes to lie on the desk. */
function worn(bench: EveningBench): EveningBench {
  bench.tap();
  bench.seconds(2);
  wearOut(bench);
  return bench;
}

function wearOut(bench: EveningBench): void {
  for (let sector = 0; sector < SHELF_SECTORS; sector++) bench.board.flash.wearOut(SHELF_AT + sector);
}

const threePasses = { ...boathouse, passes: boathouse.passes.map(({ dodges: _, ...pass }) => pass) };

function printing(): EveningBench {
  const bench = evening();
  bench.print(threePasses);
  return worn(bench);
}

/** Another kind of work, with as many figures as are said. */
function chosen(job: 'lamp-test' | 'bracket' | 'plain'): EveningBench {
  const bench = evening();
  if (job === 'bracket') bench.print(threePasses);
  bench.ask({ type: 'choose', id: 0, job, name: '' });
  return worn(bench);
}

function light(bench: EveningBench, seconds: number): void {
  bench.tap();
  bench.seconds(seconds);
}

/** Some of the light that is next, then back to rest and on with the sheet. */
function breakOff(bench: EveningBench, seconds = 1.5): void {
  light(bench, seconds);
  expect(bench.panel[0]).toBe('Press pause Hold end');
  bench.hold();
  bench.seconds(1);
  bench.tap();
  expect(bench.panel[0]).toBe('Tap start Hold back');
}

const WHOLE = 40;
const goesOn = (bench: EveningBench) => bench.panel.slice(1, 3);
const tallies = (bench: EveningBench) =>
  bench.log().flatMap((entry) => (/^sheet-(ended|resumed)/.test(entry.type) ? [entry] : []));

describe('a sheet on a worn-out shelf', () => {
  it('that was left in a pass and got the rest of it has had one pass', () => {
    const bench = printing();
    breakOff(bench);
    light(bench, WHOLE);
    expect(bench.panel[3]).toContain('pass 2/3');
    bench.offAndOn();
    expect(goesOn(bench)).toEqual(['Sheet 1 goes on', 'with pass 2/3']);
    bench.tap();
    expect(bench.panel[3]).toContain('pass 2/3');
    light(bench, WHOLE);
    light(bench, WHOLE);
    const doses = bench.log().flatMap((entry) => (entry.type === 'exposure' ? [entry.doseMs] : []));
    // A base of 12 s, its burns of 1 and 1/2 stop: 12 x (2^1 - 1) and 12 x (2^0.5 - 1), by definition.
    expect(doses.reduce((sum, doseMs) => sum + doseMs)).toBe(12_000 + 12_000 + 4_971);
  });

  it('that was left in a pass twice has had some of that one pass, at most as much as the log has', () => {
    const bench = printing();
    breakOff(bench);
    breakOff(bench);
    light(bench, 2);
    bench.offAndOn();
    expect(goesOn(bench)).toEqual(['Sheet 1 goes on', 'was cut in pass 1/3']);
    bench.tap();
    expect(bench.panel[1]).toBe('Give pass 1 again?');
    expect(bench.panel[3]).toBe('Had at most 12.00 s');
    bench.push();
    expect(bench.panel[3]).toContain('pass 2/3');
  });

  it.each([
    ['strip', 'patch 3/6'],
    ['lamp-test', 'patch 2/7'],
    ['bracket', 'pass 3/7'],
  ] as const)('that is a %s and was left in its second light goes on with the third', (job, third) => {
    const bench = job === 'strip' ? worn(evening()) : chosen(job);
    light(bench, WHOLE);
    breakOff(bench, 1.2);
    light(bench, WHOLE);
    bench.offAndOn();
    expect(goesOn(bench)).toEqual(['Sheet 1 goes on', `with ${third}`]);
  });

  it('that is a bracket counts the passes behind its variants as they come', () => {
    const bench = evening();
    bench.print(threePasses);
    bench.ask({ type: 'choose', id: 0, job: 'bracket', name: '' });
    bench.tap();
    bench.push();
    bench.turn(-2);
    expect(bench.panel[1]).toBe('whole sheet');
    bench.tap();
    bench.seconds(2);
    wearOut(bench);
    for (let variant = 0; variant < 5; variant++) light(bench, WHOLE);
    expect(bench.panel[3]).toBe('Burn, pass 6/7');
    light(bench, 2);
    bench.offAndOn();
    expect(goesOn(bench)).toEqual(['Sheet 1 goes on', 'was cut in pass 6/7']);
  });

  it('that is one plain exposure has had all its light with the rest of that', () => {
    const bench = chosen('plain');
    breakOff(bench);
    light(bench, 2);
    bench.offAndOn();
    expect(goesOn(bench)).toEqual(['Sheet 1 goes on', 'was cut in pass 1/1']);
  });

  it('whose passes were given in another order lacks those that it did not have', () => {
    const bench = printing();
    light(bench, WHOLE);
    bench.turn(1);
    expect(bench.panel[1]).toBe('Leave out pass 2?');
    bench.tap();
    light(bench, 2);
    expect(bench.board.lampOn).toBe(true);
    bench.offAndOn();
    expect(goesOn(bench)).toEqual(['Sheet 1 goes on', 'was cut in pass 3/3']);
    bench.tap();
    expect(bench.panel[1]).toBe('Give pass 3 again?');
    bench.turn(-1);
    expect(bench.panel[3]).toBe('Next: pass 2/3');
  });

  it('that was gone on with and lost with the power is wasted once more: the log says so', () => {
    const bench = printing();
    breakOff(bench);
    bench.offAndOn();
    expect(tallies(bench)).toMatchObject([
      { type: 'sheet-ended', outcome: 'stopped', wasted: 1 },
      { type: 'sheet-resumed', wasted: 0 },
      { type: 'sheet-ended', outcome: 'interrupted', wasted: 1 },
    ]);
  });
});

describe('another sheet on a worn-out shelf', () => {
  it('of another kind of work, with the number of one that never had light, is none that can be gone on with', () => {
    const bench = printing();
    bench.hold();
    bench.seconds(1);
    bench.ask({ type: 'choose', id: 0, job: 'strip', name: '' });
    bench.tap();
    light(bench, WHOLE);
    expect(bench.panel[3]).toContain('Patch 2/6');
    bench.offAndOn();
    expect(bench.panel[1]).not.toContain('goes on');
  });

  it('of a recipe that was turned after the shelf took the last of it is none: it would be another light', () => {
    const bench = printing();
    bench.turn(1);
    bench.tap();
    light(bench, WHOLE);
    expect(bench.panel[3]).toContain('pass 2/3');
    bench.offAndOn();
    expect(bench.panel[1]).not.toContain('goes on');
  });

  it('after power-off, with the same number, is none either', () => {
    const bench = printing();
    light(bench, WHOLE);
    bench.offAndOn();
    expect(goesOn(bench)).toEqual(['Sheet 1 goes on', 'with pass 2/3']);
    // Another sheet, and the power fails in its first light.
    bench.turn(1);
    bench.tap();
    light(bench, 2);
    bench.offAndOn();
    expect(bench.panel[1]).not.toContain('goes on');
    bench.ask({ type: 'choose', id: 0, job: 'recipe', name: boathouse.name });
    bench.tap();
    light(bench, 2);
    expect(bench.board.lampOn).toBe(true);
    bench.offAndOn();
    expect(bench.panel[1]).not.toContain('goes on');
  });

  it('that had light is not taken back by one behind it that had none', () => {
    const bench = printing();
    light(bench, WHOLE);
    bench.hold();
    bench.seconds(1);
    bench.turn(1);
    bench.tap();
    light(bench, 2);
    bench.hold();
    bench.seconds(1);
    bench.turn(1);
    bench.tap();
    // A foot that comes down and holds: the sheet is begun in the log, and unused.
    bench.hold();
    bench.seconds(1);
    bench.offAndOn();
    expect(bench.panel[1]).not.toContain('goes on');
  });
});
