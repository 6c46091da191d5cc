import { describe, expect, test } from 'vitest';
import { ProbeBoard, type Said } from './rig/probe-board.js';
import { boardTestsRun } from './rig/requirements.js';

const of = (said: Said[], letter: string) => said.filter((one) => one.letter === letter);

/** What the board may take from an edge at the pedal's pin to the relay's, in microseconds. */
const LATENCY_US = 1000;

describe.runIf(boardTestsRun)('pedal and knob on the chip', () => {
  test('every edge of a bouncing pedal reaches the core with the microsecond it was seen', () => {
    const board = new ProbeBoard();
    const bouncesUs = [0, 130, 400, 900, 2100, 4000, 9500, 15_000];
    const startUs = board.nowUs;
    for (const [index, us] of bouncesUs.entries()) {
      board.timeline.at(startUs + us, () => board.pedal(index % 2 === 0));
    }
    board.advanceUs(100_000);
    const edges = of(board.heard(), 'p');
    expect(edges.map(({ number }) => number)).toEqual([1, 0, 1, 0, 1, 0, 1, 0]);
    const betweenUs = edges.map(({ atUs }) => atUs - edges[0]!.atUs);
    betweenUs.forEach((us, index) => {
      expect(Math.abs(us - bouncesUs[index]!)).toBeLessThanOrEqual(2);
    });
  });

  test('a spike of 50 us is told as the two edges that it is', () => {
    const board = new ProbeBoard();
    board.pressFor(50);
    board.advanceUs(20_000);
    expect(of(board.heard(), 'p').map(({ number }) => number)).toEqual([1, 0]);
  });

  test('from the edge to the relay it takes less than a millisecond, idle or as busy as can be', () => {
    const board = new ProbeBoard();
    board.tell('20000x');
    for (const commands of ['', '1q1z1v']) {
      board.tell(commands);
      board.lampEdges.length = 0;
      const pressedUs = board.nowUs;
      board.pressFor(5000);
      board.advanceUs(30_000);
      expect(board.lampEdges[0]!.atUs - pressedUs).toBeLessThan(LATENCY_US);
    }
  });

  test('more edges than the queue holds end in what the contact really is', () => {
    const board = new ProbeBoard();
    board.port.write('1q');
    board.advanceUs(5000);
    board.port.write('0q0e'); // the core is away while the chip erases
    for (let edge = 0; edge < 401; edge++)
      board.timeline.at(board.nowUs + 3000 + edge, () => board.pedal(edge % 2 === 0));
    board.advanceUs(400_000);
    expect(of(board.heard(), 'p').at(-1)?.number).toBe(1);
  });

  test('a pedal that is down at power-up is news', () => {
    const board = new ProbeBoard();
    board.cutPower();
    board.pedal(true);
    board.restorePower();
    board.advanceUs(100_000);
    const said = board.heard();
    expect(said.map(({ letter, number }) => [letter, number])).toEqual([
      ['B', 0],
      ['p', 1],
    ]);
  });

  test('the knob counts detents both ways, its push is an edge', () => {
    const board = new ProbeBoard();
    board.knobTurn(3);
    board.advanceUs(50_000);
    board.knobTurn(-2);
    board.advanceUs(50_000);
    board.knobPush(true);
    board.advanceUs(20_000);
    const said = board.heard();
    expect(of(said, 't').map(({ number }) => number)).toEqual([1, 1, 1, -1, -1]);
    expect(of(said, 'k').map(({ number }) => number)).toEqual([1]);
  });

  test('a phase that bounces counts nothing', () => {
    const board = new ProbeBoard();
    for (let bounce = 0; bounce < 20; bounce++) {
      board.knobPhase('a', bounce % 2 === 0);
      board.advanceUs(300);
    }
    board.knobPhase('a', true);
    board.advanceUs(20_000);
    expect(of(board.heard(), 't')).toEqual([]);
  });

  test('events come to the core in order of time', () => {
    const board = new ProbeBoard();
    board.tell('30000x');
    board.port.write('40000w');
    for (let us = 0; us < 60_000; us += 700)
      board.timeline.at(board.nowUs + us, () => board.pedal(us % 1400 === 0));
    board.advanceUs(200_000);
    const times = board.heard().map(({ atUs }) => atUs);
    expect(times).toEqual(times.toSorted((one, other) => one - other));
  });
});
