import { describe, expect, it } from 'vitest';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { limits } from '../../../../shared-protocol/limits.js';
import { usualBaths } from '../../../../shared-protocol/usual-baths.js';
import { markOfFullLog } from '../../../setup/full-log.js';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';
import { changeDocument, placeOf } from './kept-document.js';
import { heardIn, heardSince } from './rhythm.js';

function atBaths(settings: Record<string, number> = {}, board = new SimulatedBoard()): EveningBench {
  const bench = new EveningBench(board);
  bench.greet();
  for (const [name, value] of Object.entries(settings))
    bench.ask({ type: 'set-setting', id: 0, name: name as 'metronome', value });
  bench.turn(-1);
  return bench;
}

function setBath(bench: EveningBench, limitCm2: number): void {
  bench.ask({
    ...{ type: 'bath-set', id: 0, bath: 1, baths: 1, label: 'developer', limitCm2 },
    ...{ resinCoatedSeconds: 60, fibreSeconds: 120, drainSeconds: 10, agitationSeconds: 15 },
  });
}

interface RowBath {
  readonly label: string;
  readonly resinCoatedSeconds: number;
  readonly fibreSeconds: number;
}

function setRow(bench: EveningBench, row: readonly RowBath[]): void {
  for (const [at, bath] of row.entries())
    bench.ask({
      ...{ type: 'bath-set', id: 0, bath: at + 1, baths: row.length, limitCm2: 0 },
      ...{ drainSeconds: 10, agitationSeconds: 0, ...bath },
    });
}

function throughAll(bench: EveningBench): void {
  bench.tap();
  for (let bath = 0; bath < 8 && bench.panel[0]!.startsWith('Tap bath'); bath++) {
    bench.tap();
    bench.seconds(3601);
  }
}

const bath = (bench: EveningBench, number = 1) => bench.ask({ type: 'bath-get', id: 0, bath: number });

describe('the baths', () => {
  it('of a new board are the usual ones, without a lens to stop down first', () => {
    const bench = atBaths();
    expect(bench.panel).toEqual(['Tap baths Hold focus', '1:30', 'developer', '4 baths']);
    bench.tap();
    expect(bench.panel).toEqual(['Tap bath Hold back', '1:30', 'developer', 'Bath 1/4, 1 sheet']);
  });

  it('are not left for another job by a laptop while one of them counts', () => {
    const bench = atBaths();
    bench.tap();
    bench.tap();
    const [counting] = bench.panel.slice(2);
    expect(bench.ask({ type: 'choose', id: 0, job: 'strip', name: '' })).toMatchObject([
      { type: 'error', code: 'not-allowed' },
    ]);
    expect(bench.panel[2]).toBe(counting);
    bench.seconds(usualBaths[0]!.resinCoatedSeconds);
    expect(entries(bench, 'bath-used')).toMatchObject([{ bath: 1, givenMs: 90_000 }]);
  });

  it('time each bath from a tap on, and wait with the next for the pedal', () => {
    const bench = atBaths();
    throughAll(bench);
    expect(bench.panel).toEqual(['Tap again Hold rest', '1 sheet through', '4 baths', '']);
    expect(entries(bench, 'bath-used')).toMatchObject(
      usualBaths.map(({ label, resinCoatedSeconds }, at) => ({
        ...{ bath: at + 1, label, sheets: 1, totalSheets: 1, totalCm2: 516, outMs: 0 },
        ...{ plannedMs: resinCoatedSeconds * 1000, givenMs: resinCoatedSeconds * 1000 },
      })),
    );
  });

  it('take the times of fibre paper where that is the paper', () => {
    const bench = atBaths({ 'fibre-paper': 1 });
    throughAll(bench);
    expect(entries(bench, 'bath-used')).toMatchObject(
      usualBaths.map(({ fibreSeconds }) => ({ plannedMs: fibreSeconds * 1000 })),
    );
  });

  it('call agitation, lifting out and the end by rhythm, the draining being the last part of the time', () => {
    const bench = atBaths();
    setBath(bench, 0);
    bench.tap();
    bench.tap();
    bench.seconds(2);
    const heard = Array.from({ length: 12 }, () => heardIn(bench, 5));
    expect(heard).toEqual([
      ...['', '', 'quick quick', '', '', 'quick quick', '', '', 'quick quick'],
      ...['short short long', '', 'long long long'],
    ]);
  });

  it('show the time to the lift, and then the time to drain', () => {
    const bench = atBaths();
    setBath(bench, 0);
    bench.tap();
    bench.tap();
    bench.seconds(9.9);
    expect(bench.panel).toEqual(['Tap next Hold back', '0:41', 'developer', 'Bath 1/1, 1 sheet']);
    bench.seconds(41);
    expect(bench.panel[1]).toBe('0:10 lift, drain');
    bench.seconds(9);
    expect(bench.panel[1]).toBe('0:01 lift, drain');
  });

  it('are told to a watching laptop by what they are called, with what is left of each', () => {
    const bench = atBaths();
    bench.ask({ type: 'watch', id: 0, on: true });
    bench.hush();
    throughAll(bench);
    const told = [...bench.notices, ...bench.hear()].flatMap((line) =>
      line.type === 'moved' && /^(step-ready|timing)$/.test(line.state)
        ? [[line.state, line.label, line.remainingMs]]
        : [],
    );
    expect(told).toEqual(
      usualBaths.flatMap(({ label, resinCoatedSeconds }) =>
        ['step-ready', 'timing'].map((state) => [state, label, resinCoatedSeconds * 1000]),
      ),
    );
  });

  it('a tap takes the paper out before its time, and the log has the time that it had', () => {
    const bench = atBaths();
    bench.tap();
    bench.tap();
    bench.seconds(20);
    bench.tap();
    expect(bench.panel[2]).toBe('stop');
    const [used] = entries(bench, 'bath-used');
    expect(used).toMatchObject({ plannedMs: 90_000 });
    expect(Math.abs((used as { givenMs: number }).givenMs - 20_060)).toBeLessThan(200);
  });

  it('a hold leads back to rest, and the bath that the paper was in counts', () => {
    const bench = atBaths();
    bench.tap();
    bench.tap();
    bench.seconds(20);
    bench.hold();
    expect(bench.panel[0]).toBe('Tap baths Hold focus');
    expect(entries(bench, 'bath-used')).toMatchObject([{ bath: 1, totalSheets: 1 }]);
  });

  it('ended under the foot are not ended twice: the tap was meant for the bath before', () => {
    const bench = atBaths();
    setBath(bench, 0);
    bench.tap();
    bench.tap();
    bench.seconds(59.7);
    bench.board.pedal(true);
    bench.seconds(0.5);
    bench.board.pedal(false);
    bench.seconds(0.5);
    expect(bench.panel[0]).toBe('Tap again Hold rest');
    expect(entries(bench, 'bath-used')).toHaveLength(1);
  });

  it('count sheets and area since each was mixed, over power-off, and say when the limit is reached', () => {
    const board = new SimulatedBoard();
    const bench = atBaths({ 'sheet-cm2': 500 }, board);
    setBath(bench, 2000);
    bench.tap();
    bench.push();
    bench.push();
    bench.turn(2);
    expect(bench.panel.slice(1)).toEqual(['3 sheets', 'developer', 'Knob: how many']);
    bench.tap();
    bench.seconds(61);
    expect(bath(bench)).toMatchObject([{ sheets: 3, areaCm2: 1500, limitCm2: 2000 }]);
    bench.tap();
    expect(bench.panel[3]).toBe('Bath 1/1, 1 sheet');
    bench.tap();
    bench.seconds(61);
    bench.tap();
    expect(bench.panel[3]).toBe('Used up: mix fresh');
    bench.hold();
    bench.seconds(2);
    board.cutPower();
    board.restorePower();
    const later = new EveningBench(board);
    later.greet();
    expect(bath(later)).toMatchObject([{ label: 'developer', sheets: 4, areaCm2: 2000 }]);
  });

  // What the record of a bath has room for is frozen: 16 bits of sheets, 32 of square centimetres.
  it('count no further than a row has room for, over power-off and on the panel, too', () => {
    const bench = atBaths({ 'sheet-cm2': 500 });
    setBath(bench, 0);
    bench.tap();
    bench.tap();
    bench.seconds(61);
    bench.hold();
    bench.seconds(2);
    changeDocument(bench, 'baths', (body) => {
      body.writeUInt16LE(0xffff - 11, placeOf('bath', 'sheets'));
      body.writeUInt32LE(0xffff_ffff - 5999, placeOf('bath', 'areaCm2'));
      return body;
    });
    bench.offAndOn();
    bench.ask({ type: 'choose', id: 0, job: 'process', name: '' });
    bench.tap();
    bench.pushTo('Knob: mixed fresh');
    expect(bench.panel[1]).toBe('65524 sheets so far');
    bench.hold();
    for (const [sheets, missingCm2] of [
      [11, 499],
      [12, 0],
    ] as const) {
      bench.tap();
      bench.pushTo('Knob: how many');
      bench.turn(sheets - 1);
      expect(bench.panel[1]).toBe(`${sheets} sheets`);
      bench.tap();
      bench.seconds(61);
      bench.hold();
      expect(bath(bench)).toMatchObject([{ sheets: 0xffff, areaCm2: 0xffff_ffff - missingCm2 }]);
    }
    expect(entries(bench, 'bath-used').at(-1)).toMatchObject({ totalSheets: 0xffff, totalCm2: 0xffff_ffff });
  });

  // After a wash of four sheets the next one went in as four, and the developer's count rose by three too many.
  it('take the next sheet as one sheet, however many were washed together before', () => {
    const bench = atBaths();
    bench.tap();
    bench.turn(9);
    bench.push();
    bench.turn(3);
    expect(bench.panel[1]).toBe('4 sheets');
    bench.tap();
    bench.seconds(181);
    expect(bench.panel[1]).toBe('4 sheets through');
    bench.tap();
    expect(bench.panel.slice(2)).toEqual(['developer', 'Bath 1/4, 1 sheet']);
    bench.tap();
    bench.seconds(91);
    expect(bath(bench)).toMatchObject([{ label: 'developer', sheets: 1, areaCm2: 516 }]);
  });

  it('keep the count of sheets from bath to bath, and when the knob changes the paper', () => {
    const bench = atBaths();
    bench.tap();
    bench.push();
    bench.push();
    bench.turn(1);
    bench.push();
    bench.turn(1);
    bench.tap();
    bench.seconds(151);
    expect(bench.panel.slice(2)).toEqual(['stop', 'Bath 2/4, 2 sheets']);
  });

  // Only the bath that followed by itself said so: not the one that the knob went to, nor the first one.
  it('say that a bath is used up at rest, before it, and at each figure of the knob', () => {
    const bench = atBaths({ 'sheet-cm2': 500 });
    setBath(bench, 700);
    bench.tap();
    bench.tap();
    bench.seconds(61);
    bench.hold();
    expect(bench.panel).toEqual(['Tap baths Hold focus', '1:00', 'developer', 'Used up: mix fresh']);
    bench.tap();
    expect(bench.panel.slice(1)).toEqual(['1:00', 'developer', 'Used up: mix fresh']);
    const seen = Array.from({ length: 4 }, () => {
      bench.push();
      return [bench.panel[1], bench.panel[3]];
    });
    expect(seen).toEqual([
      ['1:00, used up', 'Knob: bath 1/1'],
      ['1 sheet, used up', 'Knob: how many'],
      ['Resin-coated', 'Used up. Knob: paper'],
      ['1 sheet so far', 'Used up. Knob: fresh'],
    ]);
    bench.turn(1);
    expect(bench.panel.slice(1)).toEqual(['0 sheets so far', 'developer', 'Knob: mixed fresh']);
  });

  it('say that a bath is used up as well as that the paper is out too long', () => {
    const bench = atBaths({ 'sheet-cm2': 500, 'bath-follows': 1, 'safe-minutes': 1, 'lens-check': 0 });
    setBath(bench, 400);
    bench.print(boathouse);
    bench.tap();
    for (let taps = 0; taps < 12 && !bench.panel[0]!.startsWith('Tap baths'); taps++) {
      bench.tap();
      bench.seconds(40);
    }
    bench.tap();
    expect(bench.panel[1]).toBe('1:00, used up');
    expect(bench.panel[3]).toMatch(/^Paper out \d+ min!$/);
  });

  it('are mixed fresh by the knob, which can take that back until it goes on', () => {
    const bench = atBaths();
    throughAll(bench);
    bench.tap();
    for (let figures = 0; figures < 4; figures++) bench.push();
    expect(bench.panel.slice(1)).toEqual(['1 sheet so far', 'developer', 'Knob: mixed fresh']);
    bench.turn(1);
    expect(bench.panel[1]).toBe('0 sheets so far');
    bench.turn(-1);
    expect(bench.panel[1]).toBe('1 sheet so far');
    bench.turn(1);
    bench.push();
    expect(bath(bench)).toMatchObject([{ sheets: 0, areaCm2: 0 }]);
    expect(entries(bench, 'bath-used').at(-1)).toMatchObject({
      ...{ bath: 1, label: 'developer', sheets: 0, plannedMs: 0, totalSheets: 0, totalCm2: 0 },
    });
  });

  it('are not mixed fresh where the log has no room to say so: the count stays', () => {
    const bench = atBaths({ 'sheet-cm2': 500 });
    const { board } = bench;
    board.cutPower();
    const { offset, mark } = markOfFullLog(2);
    board.flash.program(offset, mark);
    board.restorePower();
    bench.seconds(1);
    bench.greet();
    bench.ask({ type: 'choose', id: 0, job: 'process', name: '' });
    bench.tap();
    bench.tap();
    bench.seconds(91);
    bench.hold();
    bench.tap();
    bench.pushTo('Knob: mixed fresh');
    expect(bench.panel[1]).toBe('1 sheet so far');
    for (let marks = 0; marks < 200; marks++)
      bench.ask({ type: 'set-clock', id: 0, epochMs: Date.UTC(2027, 2, 5) });
    const fromUs = board.nowUs;
    bench.turn(1);
    bench.seconds(1);
    expect(heardSince(bench, fromUs)).toBe('quick quick quick quick quick');
    expect(bench.panel[1]).toBe('1 sheet so far');
    expect(bath(bench)).toMatchObject([{ sheets: 1, areaCm2: 500 }]);
  });

  it('mixed fresh by the knob take no more of the flash than when a laptop says so', () => {
    const [byKnob, byLaptop] = [
      (bench: EveningBench) => {
        bench.tap();
        bench.pushTo('Knob: mixed fresh');
        bench.turn(1);
        bench.push();
        bench.hold();
      },
      (bench: EveningBench) => {
        bench.ask({ type: 'bath-renew', id: 0, bath: 1 });
      },
    ].map((mix) => {
      const bench = atBaths();
      bench.tap();
      bench.tap();
      bench.seconds(91);
      bench.hold();
      bench.seconds(5);
      const before = bench.board.flash.operations;
      mix(bench);
      bench.seconds(5);
      expect(bath(bench)).toMatchObject([{ sheets: 0, areaCm2: 0 }]);
      return bench.board.flash.operations - before;
    });
    expect(byKnob).toBeGreaterThan(0);
    expect(byKnob).toBeLessThanOrEqual(byLaptop!);
  });

  it('change between the papers by the knob, and that stays so', () => {
    const bench = atBaths();
    bench.tap();
    for (let figures = 0; figures < 3; figures++) bench.push();
    expect(bench.panel[1]).toBe('Resin-coated');
    bench.turn(1);
    expect(bench.panel[1]).toBe('Fibre');
    bench.push();
    bench.push();
    bench.hold();
    expect(bench.panel[1]).toBe('2:30');
    expect(bench.ask({ type: 'get-setting', id: 0, name: 'fibre-paper' })).toMatchObject([{ value: 1 }]);
  });

  it('are gone on with where the knob says: prints that wait in water are washed together', () => {
    const bench = atBaths();
    bench.tap();
    bench.turn(2);
    expect(bench.panel.slice(1)).toEqual(['1:30', 'fixer', 'Knob: bath 3/4']);
    bench.turn(9);
    expect(bench.panel.slice(1)).toEqual(['3:00', 'wash', 'Knob: bath 4/4']);
    bench.push();
    bench.turn(5);
    expect(bench.panel.slice(1)).toEqual(['6 sheets', 'wash', 'Knob: how many']);
    bench.tap();
    bench.seconds(181);
    expect(bench.panel[0]).toBe('Tap again Hold rest');
    expect(entries(bench, 'bath-used')).toMatchObject([{ bath: 4, label: 'wash', sheets: 6 }]);
  });

  it('that the paper in use does not go into are passed over by the knob', () => {
    const bench = atBaths();
    const row = [
      { label: 'developer', resinCoatedSeconds: 60, fibreSeconds: 90 },
      { label: 'washing aid', resinCoatedSeconds: 0, fibreSeconds: 600 },
      { label: 'wash', resinCoatedSeconds: 180, fibreSeconds: 600 },
    ];
    setRow(bench, row);
    bench.tap();
    bench.turn(1);
    expect(bench.panel.slice(2)).toEqual(['wash', 'Knob: bath 2/2']);
    bench.turn(-1);
    expect(bench.panel.slice(2)).toEqual(['developer', 'Knob: bath 1/2']);
  });

  it('that the paper in use does not go into are passed over at the beginning of the row, too', () => {
    const bench = atBaths();
    const row = [
      { label: 'soak', resinCoatedSeconds: 0, fibreSeconds: 60 },
      { label: 'developer', resinCoatedSeconds: 60, fibreSeconds: 90 },
      { label: 'wash', resinCoatedSeconds: 180, fibreSeconds: 600 },
    ];
    setRow(bench, row);
    bench.tap();
    for (const [clicks, label] of [
      [-1, 'developer'],
      [1, 'wash'],
      [-1, 'developer'],
      [-9, 'developer'],
    ] as const) {
      bench.turn(clicks);
      expect([clicks, bench.panel[2]]).toEqual([clicks, label]);
    }
  });

  it('are as many as there may be, and paper goes through each', () => {
    const bench = atBaths();
    const labels = Array.from({ length: limits.baths }, (_, at) => `bath ${at + 1}`);
    setRow(
      bench,
      labels.map((label) => ({ label, resinCoatedSeconds: 20, fibreSeconds: 20 })),
    );
    bench.tap();
    for (const _ of labels) {
      bench.tap();
      bench.seconds(21);
    }
    expect(entries(bench, 'bath-used').map((used) => 'label' in used && used.label)).toEqual(labels);
  });

  it('take no more sheets than a tray holds, and no fewer than one', () => {
    const bench = atBaths();
    bench.tap();
    bench.push();
    bench.push();
    bench.turn(-1);
    expect(bench.panel[1]).toBe('1 sheet');
    bench.turn(11);
    bench.turn(1);
    expect(bench.panel[1]).toBe('12 sheets');
  });

  it('of which none is for the paper cannot be begun', () => {
    const bench = atBaths({ 'fibre-paper': 1 });
    bench.ask({
      ...{ type: 'bath-set', id: 0, bath: 1, baths: 1, label: 'developer', limitCm2: 0 },
      ...{ resinCoatedSeconds: 60, fibreSeconds: 0, drainSeconds: 10, agitationSeconds: 15 },
    });
    expect(bench.panel).toEqual(['Turn knob Hold focus', '', '', 'Set bath times first']);
  });

  it('begin with the first that the paper in use goes into: there the knob asks which paper it is, and it is out no more', () => {
    const bench = atBaths({ 'bath-follows': 1, 'lens-check': 0 });
    for (const [at, label] of ['pre-wash', 'developer'].entries())
      bench.ask({
        ...{ type: 'bath-set', id: 0, bath: at + 1, baths: 2, label, limitCm2: 0, drainSeconds: 10 },
        ...{ agitationSeconds: 0, resinCoatedSeconds: at * 60, fibreSeconds: 90 },
      });
    bench.ask({ type: 'choose', id: 0, job: 'plain', name: '' });
    bench.tap();
    bench.tap();
    bench.seconds(20);
    bench.tap();
    expect(bench.panel.slice(2)).toEqual(['developer', 'Bath 1/1, 1 sheet']);
    const asked = Array.from({ length: 4 }, () => {
      bench.push();
      return bench.panel[3];
    });
    expect(asked).toContain('Knob: paper');
    bench.tap();
    bench.seconds(61);
    const [used] = entries(bench, 'bath-used');
    expect((used as { outMs: number }).outMs).toBeGreaterThan(20_000);
  });
});

describe('baths that follow', () => {
  function ready(): EveningBench {
    const bench = new EveningBench();
    bench.greet();
    bench.print(boathouse);
    bench.ask({ type: 'set-setting', id: 0, name: 'bath-follows', value: 1 });
    bench.focusAndStopDown();
    return bench;
  }

  function giveAll(bench: EveningBench): void {
    bench.tap();
    for (let taps = 0; taps < 12 && !bench.panel[0]!.startsWith('Tap baths'); taps++) {
      bench.tap();
      bench.seconds(40);
    }
  }

  it('lead from a print through the baths to the next sheet of the same', () => {
    const bench = ready();
    giveAll(bench);
    expect(bench.panel[0]).toBe('Tap baths Hold rest');
    throughAll(bench);
    expect(bench.panel[0]).toBe('Tap sheet Hold rest');
    bench.tap();
    bench.answer();
    expect(bench.panel.slice(2)).toEqual(['jetty', 'Dodge 1/2 pass 1/3']);
  });

  it('lead from a strip through the baths to reading it', () => {
    const bench = ready();
    bench.turn(-1);
    giveAll(bench);
    throughAll(bench);
    expect(bench.panel[0]).toBe('Tap read Hold rest');
    bench.tap();
    expect([bench.panel[0], bench.panel[3]]).toEqual(['Tap accept Hold rest', 'Knob: which is right']);
  });

  // A board that is asked to wake each minute for nothing wakes for ever.
  it.each([
    ['goes into the first bath', 1],
    ['makes way for the next sheet', 0],
  ])('paper that %s is not waited for any more', (_, follows) => {
    const bench = new EveningBench();
    bench.greet();
    for (const [name, value] of [
      ['safe-minutes', 3],
      ['lens-check', 0],
      ['bath-follows', follows],
    ] as const)
      bench.ask({ type: 'set-setting', id: 0, name, value });
    bench.ask({ type: 'choose', id: 0, job: 'plain', name: '' });
    bench.tap();
    bench.tap();
    bench.seconds(30);
    const untilNextUs = () => bench.board.timeline.nextUs;
    expect(untilNextUs()).toBeDefined();
    if (follows === 1) throughAll(bench);
    else bench.tap();
    bench.seconds(5);
    expect(untilNextUs()).toBeUndefined();
  });

  it('left by a hold lead back to what was printed', () => {
    const bench = ready();
    giveAll(bench);
    bench.tap();
    bench.hold();
    expect(bench.panel.slice(0, 3)).toEqual(['Tap print Hold focus', '12.00 s base', 'boathouse']);
  });

  it('are forgotten when the laptop chooses something else meanwhile', () => {
    const bench = ready();
    giveAll(bench);
    throughAll(bench);
    bench.ask({ type: 'choose', id: 0, job: 'process', name: '' });
    expect(bench.panel[0]).toBe('Tap baths Hold focus');
    throughAll(bench);
    expect(bench.panel[0]).toBe('Tap again Hold rest');
  });
});
