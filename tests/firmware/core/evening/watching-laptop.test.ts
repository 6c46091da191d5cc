import { expect, it } from 'vitest';
import type { MessageOf } from '../../../../shared-protocol/index.js';
import { Random } from '../../../setup/random.js';
import { boathouse } from './boathouse.js';
import { EveningBench } from './evening-bench.js';
import { anyEvent, anyGesture, anyWork } from './random-evening.js';

// A laptop that watches is told the evening as eye and lamp have it: the board's own panel and relay are the judge.

const EVENINGS = 6;
const EVENTS = 100;
/** Figures on the line are whole milliseconds. */
const ROUNDING_MS = 1.5;
/** A label stands behind other words, and is cut off at the row's end. */
const CUT_OFF = 6;

const NO_LIGHT: readonly string[] = [
  'rest',
  'focus',
  'lens-check',
  'done',
  'choosing',
  'asking',
  'stuck',
  'leaving',
];
const STEPS: readonly string[] = ['step-ready', 'timing'];

class Watched {
  readonly bench = new EveningBench();
  readonly #rows = ['', '', '', ''];
  #moved: MessageOf<'moved'> | undefined;
  #lampOn = false;
  /** What was to be given when the light came on, and has been since. */
  #pass: { restMs: number; onMs: number } | undefined;

  constructor() {
    this.bench.greet();
    this.bench.ask({ type: 'watch', id: 0, on: true });
    // All of the panel is told anew.
    this.bench.turn(1);
    this.bench.board.panel.forEach((row, index) => {
      this.#rows[index] = asTold(row);
    });
    this.bench.hear();
  }

  hear(): void {
    for (const notice of this.bench.notices.splice(0).concat(this.bench.hear())) {
      // What nobody asked for bears no number, says the schema: a laptop would take it for an answer.
      expect(notice).toMatchObject({ id: 0 });
      if (notice.type === 'shown') this.#rows[notice.row] = notice.text;
      if (notice.type === 'lamp') this.#hearLamp(notice);
      if (notice.type === 'moved') this.#hearMove(notice);
    }
  }

  #hearLamp({ on, onUs }: MessageOf<'lamp'>): void {
    expect(on).not.toBe(this.#lampOn);
    this.#lampOn = on;
    if (on) expect(onUs).toBe(0);
    if (on) return;
    expect(onUs).toBe(this.bench.pulses.at(-1));
    if (this.#pass !== undefined) this.#pass.onMs += onUs / 1000;
  }

  #hearMove(moved: MessageOf<'moved'>): void {
    const isPaused = moved.state === 'paused' || moved.state === 'between-dodges';
    if (moved.state === 'exposing' && this.#moved?.state !== 'exposing')
      this.#pass = { restMs: moved.remainingMs, onMs: 0 };
    else if (moved.state !== 'exposing' && !isPaused) this.#pass = undefined;
    this.#moved = moved;
  }

  /** What it was told, against what is to be seen. */
  check(): void {
    const { board, panel } = this.bench;
    expect(this.#rows.join('|')).toBe(panel.map(asTold).join('|'));
    expect(this.#lampOn).toBe(board.lampOn);
    const moved = this.#moved;
    if (moved === undefined) return;
    if (/^[\x20-\x7e]+$/.test(moved.label) && moved.state !== 'ready')
      expect(panel.join('|')).toContain(moved.label.slice(0, CUT_OFF));
    // What has no pass has nothing left of one; a bath is counted in seconds.
    if (NO_LIGHT.includes(moved.state))
      expect(moved).toMatchObject({ pass: 0, piece: 0, label: '', remainingMs: 0 });
    if (STEPS.includes(moved.state)) expect(moved.remainingMs % 1000).toBe(0);
    if (/pass \d+\/\d+$/.test(panel[3]!)) expect(moved.label).not.toBe('');
    // An ideal lamp gives as long as it is on.
    if (this.#pass !== undefined && !board.lampOn && moved.state !== 'exposing')
      expect(Math.abs(this.#pass.restMs - this.#pass.onMs - moved.remainingMs)).toBeLessThan(ROUNDING_MS);
  }

  ask(): void {
    // What noise began is over.
    this.bench.noise(Buffer.from('\n'));
    const [status] = this.bench.ask({ type: 'ping', id: 0 });
    this.hear();
    if (status?.type !== 'status') throw new Error(`ping was answered by ${JSON.stringify(status)}`);
    if (this.#moved !== undefined) expect(this.#moved.state).toBe(status.state);
  }
}

/** All dots of a row are told as the densest letter. */
const asTold = (row: string) => row.trimEnd().replaceAll('█', '#');

it.each(Array.from({ length: EVENINGS }, (_, at) => at + 1))(
  'a laptop that watches is told the panel, the lamp and what is left of a light as they are (seed %i)',
  (seed) => {
    const random = new Random(seed);
    const watched = new Watched();
    anyWork(watched.bench, random);
    watched.hear();
    for (let event = 0; event < EVENTS; event++) {
      if (random.chance(0.6)) anyGesture(watched.bench, random);
      else anyEvent(watched.bench, random);
      watched.hear();
      watched.check();
      if (random.chance(0.02)) watched.ask();
    }
  },
);

it('a row that begins with the last letter that there is, and one of all dots, are told as they are', () => {
  const watched = new Watched();
  const { bench } = watched;
  bench.print({
    ...boathouse,
    passes: [{ kind: 'base', label: '~ all', filter: '', stops120: 0, dodges: [] }],
  });
  bench.focusAndStopDown();
  bench.tap();
  watched.hear();
  expect(bench.panel).toContain('~ all');
  watched.check();
  bench.hold();
  bench.turn(9);
  for (let steps = 0; steps < 12 && !bench.panel.includes('█'.repeat(20)); steps++) {
    bench.tap();
    if (bench.panel[1] !== 'Turn right 3, left 3') continue;
    bench.turn(3);
    bench.turn(-3);
    bench.push();
  }
  watched.hear();
  expect(bench.panel).toContain('█'.repeat(20));
  watched.check();
});
