import type { BoardHome } from '../../../../host/board/sim/board-home.js';
import type { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { EveningBench } from './evening-bench.js';

/** Slower than what the core takes for a quick turn, which goes further with each click. */
const CLICK_SECONDS = 0.13;
/** An eye comes later than a hand; and the display waits while the flash is being written. */
const LOOK_SECONDS = 0.3;

/** An evening played with pedal and knob alone; what the display shows after each thing done, as one page. */
export class Page<Home extends BoardHome = SimulatedBoard> {
  readonly bench: EveningBench<Home>;
  readonly #screens: string[] = [];

  constructor(bench: EveningBench<Home> = new EveningBench<Home>()) {
    this.bench = bench;
  }

  act(what: string, act: (bench: EveningBench<Home>) => void): void {
    act(this.bench);
    this.bench.seconds(LOOK_SECONDS);
    this.show(what);
  }

  tap(what: string, seconds = 0): void {
    this.act(`tap: ${what}`, (bench) => {
      bench.tap();
      bench.seconds(seconds);
    });
  }

  /** A tap for light; what the panel asks before it is answered first. */
  light(what: string, seconds: number): void {
    for (let answers = 0; answers < 3 && this.bench.isAsked; answers++) {
      this.tap(this.bench.panel[0]!.startsWith('Filter') ? 'the filter is in' : 'that is so');
    }
    this.tap(what, seconds);
  }

  hold(what: string): void {
    this.act(`hold: ${what}`, (bench) => bench.hold());
  }

  /** Click by click: the chip reads one contact after the other, and so each click has a time of its own. */
  turn(clicks: number): void {
    this.act(`turn ${clicks}`, (bench) => {
      for (let click = 0; click < Math.abs(clicks); click++) {
        bench.turn(Math.sign(clicks));
        bench.seconds(CLICK_SECONDS);
      }
    });
  }

  push(): void {
    this.act('push', (bench) => bench.push());
  }

  wait(seconds: number): void {
    this.act(`${seconds} s later`, (bench) => bench.seconds(seconds));
  }

  show(what: string): void {
    const edge = `+${'-'.repeat(20)}+`;
    const rows = this.bench.panel.map((row) => `|${row.padEnd(20)}|`);
    this.#screens.push([what, edge, ...rows, edge, ''].join('\n'));
  }

  /** What was done, and the screen after it. */
  get screens(): readonly string[] {
    return this.#screens;
  }

  get text(): string {
    return this.#screens.join('\n');
  }
}
