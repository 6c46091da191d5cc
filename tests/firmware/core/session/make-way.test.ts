import { describe, expect, it } from 'vitest';
import type { Message } from '../../../../shared-protocol/index.js';
import { EveningBench } from '../evening/evening-bench.js';

const makeWay = (bench: EveningBench, ask = true) => bench.askAtOnce({ type: 'make-way', id: 0, ask });
const stands = (answers: readonly Message[]) =>
  answers[0]?.type === 'way' ? answers[0].stands : JSON.stringify(answers[0]);
const refusal = (answers: readonly Message[]) =>
  answers[0]?.type === 'error' ? `${answers[0].code}: ${answers[0].text}` : JSON.stringify(answers[0]);

/** A board at rest that has written all it had to, and how often it left. */
function atRest(): { bench: EveningBench; left: () => number } {
  const bench = new EveningBench();
  let left = 0;
  bench.board.on('left', () => left++);
  bench.greet();
  bench.seconds(2);
  return { bench, left: () => left };
}

function asked(): ReturnType<typeof atRest> {
  const board = atRest();
  expect(stands(makeWay(board.bench))).toBe('asked');
  return board;
}

describe('new firmware', () => {
  it('is asked for on the panel, and three clicks to the right let it come', () => {
    const { bench, left } = asked();
    expect(bench.panel).toEqual([
      'Tap no Hold rest',
      'New firmware?',
      'Yes: 3 clicks right',
      'No lamp until done',
    ]);
    bench.turn(1);
    bench.turn(1);
    expect(stands(makeWay(bench, false))).toBe('asked');
    bench.turn(1);
    expect(stands(makeWay(bench, false))).toBe('leaving');
    expect(bench.panel).toEqual([
      'Wait for the laptop',
      'New firmware comes',
      'Do not unplug',
      'No lamp until done',
    ]);
    expect(left()).toBe(0);
    bench.seconds(1.1);
    expect(left()).toBe(1);
    expect(bench.board.powered).toBe(false);
    expect(bench.board.lampOn).toBe(false);
  });

  it.each<[string, (bench: EveningBench) => void]>([
    ['a tap', (bench) => bench.tap()],
    ['a hold of the pedal', (bench) => bench.hold()],
    ['a push of the knob', (bench) => bench.push()],
    ['a hold of the knob', (bench) => bench.holdKnob()],
    ['a turn to the left', (bench) => bench.turn(-1)],
    [
      'two clicks right and one left',
      (bench) => {
        for (const click of [1, 1, -1]) bench.turn(click);
      },
    ],
    ['nothing for 30 s', (bench) => bench.seconds(30)],
  ])('is called off by %s', (_gesture, call) => {
    const { bench, left } = asked();
    const before = bench.board.lampEdges.length;
    call(bench);
    expect(stands(makeWay(bench, false))).toBe('not-asked');
    bench.turn(3);
    bench.seconds(40);
    expect(left()).toBe(0);
    expect(bench.board.lampEdges.length).toBe(before);
    expect(bench.panel[0]).toContain('focus');
  });

  it('waits 30 s for the hand from when it was asked, however often the laptop asks again', () => {
    const { bench } = asked();
    for (let second = 0; second < 29; second++) {
      bench.seconds(1);
      expect(stands(makeWay(bench))).toBe('asked');
    }
    bench.seconds(1);
    expect(stands(makeWay(bench, false))).toBe('not-asked');
  });

  it('never comes by the line alone', () => {
    const { bench, left } = asked();
    const others: Message[] = [
      { type: 'choose', id: 0, job: 'strip', name: '' },
      { type: 'set-setting', id: 0, name: 'lens-check', value: 0 },
      { type: 'set-clock', id: 0, epochMs: 1_804_276_800_000 },
      { type: 'ping', id: 0 },
    ];
    for (let round = 0; round < 20; round++) for (const other of others) bench.ask(other);
    bench.seconds(60);
    expect(left()).toBe(0);
  });

  it('is refused while a sheet is being given, read, or lacks the rest of its light', () => {
    const { bench, left } = atRest();
    bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
    bench.seconds(1);
    bench.ask({ type: 'choose', id: 0, job: 'strip', name: '' });
    const underWay = /^not-allowed: something is under way/;
    bench.tap();
    expect(refusal(makeWay(bench))).toMatch(underWay);
    bench.tap();
    expect(bench.board.lampOn).toBe(true);
    expect(refusal(makeWay(bench))).toMatch(underWay);
    bench.seconds(20);
    bench.hold();
    bench.seconds(1);
    expect(refusal(makeWay(bench))).toBe('not-allowed: a sheet lacks light: go on with it or turn away');
    bench.turn(1);
    bench.seconds(1);
    expect(stands(makeWay(bench))).toBe('asked');
    expect(left()).toBe(0);
  });

  it('is refused with the light for focusing on', () => {
    const { bench } = atRest();
    bench.hold();
    expect(bench.board.lampOn).toBe(true);
    expect(refusal(makeWay(bench))).toMatch(/^not-allowed/);
  });

  it('is refused while a sheet waits to be read', () => {
    const { bench } = atRest();
    bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
    bench.seconds(1);
    bench.ask({ type: 'choose', id: 0, job: 'strip', name: '' });
    for (let taps = 0; taps < 20 && !bench.panel[0]!.startsWith('Tap again'); taps++) {
      bench.tap();
      bench.seconds(20);
    }
    bench.hold();
    bench.seconds(2);
    expect(refusal(makeWay(bench))).toBe('not-allowed: a sheet waits to be read');
  });

  it('is refused while a document is being written', () => {
    const { bench } = atRest();
    bench.askAtOnce({ type: 'set-setting', id: 0, name: 'tone-volume', value: 35 });
    expect(refusal(makeWay(bench))).toBe('busy: the flash is still being written');
    bench.seconds(2);
    expect(stands(makeWay(bench))).toBe('asked');
  });

  it('stays away when something is left to write at the last moment', () => {
    const { bench, left } = asked();
    bench.turn(3);
    bench.seconds(0.9999);
    bench.askAtOnce({ type: 'set-clock', id: 0, epochMs: 1_804_276_800_000 });
    bench.seconds(2);
    expect(left()).toBe(0);
    expect(stands(makeWay(bench, false))).toBe('not-asked');
  });
});
