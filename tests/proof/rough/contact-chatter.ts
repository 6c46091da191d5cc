/**
 * Two boards are worked alike: one by contacts that close and open once, the other by contacts that bounce and pick up
 * sparks. Whatever the chatter, both do the same, and no light comes of chatter alone.
 */
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { EveningBench } from '../../firmware/core/evening/evening-bench.js';
import type { Random } from '../../setup/random.js';

type Contact = 'pedal' | 'knobPush';

/** Foot switches bounce for up to 15 ms (common practice, no source). */
const BOUNCE_US = 15_000;
/** Wider ones may add up to a press where they follow each other more closely. */
const WIDEST_SPIKE_US = 100;
const GAP_OF_WIDTHS = 5;
/** After a gesture, until everything that comes of it has come. */
const SETTLED_US = 60_000;

/** A foot feels the sparks that a relay couples into its cable more than a finger does. */
const BOTH: readonly Contact[] = ['pedal', 'pedal', 'knobPush'];
/**
 * What the knob does is not listened to while the pedal may be on its way down (`knob-hand.ts`), and so not in the very tenth of
 * a millisecond of a spark at the pedal: one hold of the knob in some 1,000 under sparks is to be done again.
 */
const KNOB_ALONE: readonly Contact[] = ['knobPush'];

/** One contact of one board: where it stands, and how often it moved. */
class Chattering {
  edges = 0;
  readonly #level = { pedal: false, knobPush: false };
  readonly #board: SimulatedBoard;
  readonly #random: Random;

  constructor(board: SimulatedBoard, random: Random) {
    this.#board = board;
    this.#random = random;
  }

  #set(contact: Contact, down: boolean): void {
    this.edges++;
    this.#board[contact](down);
  }

  /** Ends at `down`, after any bounces; takes BOUNCE_US in all. */
  move(contact: Contact, down: boolean): void {
    const random = this.#random;
    let left = BOUNCE_US;
    this.#set(contact, down);
    for (let bounce = random.below(40); bounce > 0; bounce--) {
      for (const level of [!down, down]) {
        const us = Math.min(left, random.between(1, 400));
        left -= us;
        this.#board.advanceUs(us);
        this.#set(contact, level);
      }
    }
    this.#board.advanceUs(left);
    this.#level[contact] = down;
  }

  /** Time goes by, with sparks on these contacts. */
  wait(us: number, spikes: number, on: readonly Contact[] = BOTH): void {
    const random = this.#random;
    const every = Math.floor(us / Math.max(1, spikes));
    let left = us;
    for (let spike = 0; spike < spikes; spike++) {
      const widthUs = Math.min(random.between(1, WIDEST_SPIKE_US), Math.floor(every / (GAP_OF_WIDTHS + 1)));
      if (widthUs < 1) break;
      const contact = random.pick(on);
      this.#set(contact, !this.#level[contact]);
      this.#board.advanceUs(widthUs);
      this.#set(contact, this.#level[contact]);
      this.#board.advanceUs(every - widthUs);
      left -= every;
    }
    this.#board.advanceUs(left);
  }
}

export interface ChatterReport {
  edges: number;
  gestures: number;
  /** Times that the lamp came on. */
  lights: number;
  /** Collected of the chattering board, and forgotten there. */
  entries: number;
}

/** A gesture: a contact closed for so long. */
interface Gesture {
  readonly contact: Contact;
  readonly downUs: number;
}

/** Well apart from what tells a tap from a hold, 0.8 s. */
function gestureBy(random: Random): Gesture {
  const contact = random.chance(0.85) ? 'pedal' : 'knobPush';
  return {
    contact,
    downUs: random.chance(0.8) ? random.between(60_000, 700_000) : random.between(900_000, 1_500_000),
  };
}

/** In a row, before all comes to rest: so that no light, at most 600 s, ends by itself as a foot comes down. */
const GESTURES_A_ROW = 100;
const BASE_MS = 600_000;

/** The knob turns away from a sheet that lacks light; the next one has all of its light before it. */
function takeNewSheet(bench: EveningBench): void {
  bench.turn(1);
  bench.seconds(1);
  const [answer] = bench.ask({ type: 'choose', id: 0, job: 'recipe', name: 'long' });
  if (answer?.type !== 'ok')
    throw new Error(`no new sheet: ${JSON.stringify(answer)}, at ${bench.panel.join(' | ')}`);
}

export class TwoBoards {
  readonly report: ChatterReport = { edges: 0, gestures: 0, lights: 0, entries: 0 };
  readonly #random: Random;
  readonly #benches = [
    new EveningBench(new SimulatedBoard()),
    new EveningBench(new SimulatedBoard()),
  ] as const;
  readonly #chatter: Chattering;
  #collectedUpto = [0, 0];

  constructor(random: Random) {
    this.#random = random;
    this.#chatter = new Chattering(this.#benches[1].board, random);
    for (const bench of this.#benches) {
      bench.greet();
      bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
      bench.seconds(1);
      bench.print({
        name: 'long',
        baseMs: BASE_MS,
        passes: [{ kind: 'base', label: 'all', filter: '', stops120: 0 }],
      });
    }
  }

  /** @throws Error where the boards differ, or light came of chatter. */
  row(): void {
    for (let gesture = 0; gesture < GESTURES_A_ROW; gesture++) this.#gesture(gestureBy(this.#random));
    for (let hold = 0; hold < 2; hold++) this.#gesture({ contact: 'pedal', downUs: 1_000_000 });
    this.#collect();
    for (const bench of this.#benches) takeNewSheet(bench);
    this.report.edges = this.#chatter.edges;
  }

  #gesture({ contact, downUs }: Gesture): void {
    const [clean, noisy] = this.#benches;
    const quietUs = this.#random.between(350_000, 1_200_000);
    clean.board[contact](true);
    clean.board.advanceUs(BOUNCE_US + downUs);
    clean.board[contact](false);
    clean.board.advanceUs(BOUNCE_US + SETTLED_US);
    this.#chatter.move(contact, true);
    this.#chatter.wait(downUs, this.#random.below(400), contact === 'pedal' ? BOTH : KNOB_ALONE);
    this.#chatter.move(contact, false);
    noisy.board.advanceUs(SETTLED_US);
    this.report.gestures++;
    this.#expectAlike(`gesture ${this.report.gestures}, ${contact} for ${downUs} us`);
    const edgesBefore = noisy.board.lampEdges.length;
    clean.board.advanceUs(quietUs);
    this.#chatter.wait(quietUs, this.#random.below(1500));
    if (noisy.board.lampEdges.slice(edgesBefore).some(({ on }) => on))
      throw new Error(`the lamp came on by chatter alone, after gesture ${this.report.gestures}`);
  }

  #expectAlike(after: string): void {
    const [clean, noisy] = this.#benches.map(({ board, panel }) => ({
      lamp: board.lampOn,
      edges: board.lampEdges.length,
      // Times differ by some milliseconds of bouncing.
      panel: panel.map((row) => row.replace(/\d/g, '#')).join(' | '),
    }));
    if (JSON.stringify(clean) !== JSON.stringify(noisy))
      throw new Error(`after ${after}: ${JSON.stringify(clean)}, but with chatter ${JSON.stringify(noisy)}`);
    this.report.lights = Math.ceil(clean!.edges / 2);
  }

  #collect(): void {
    const [clean, noisy] = this.#benches.map((bench, which) => this.#entriesOf(bench, which));
    this.report.entries += noisy!.length;
    if (clean!.join() !== noisy!.join())
      throw new Error(`logged: ${clean!.join()}\nbut with chatter ${noisy!.join()}`);
  }

  #entriesOf(bench: EveningBench, which: number): string[] {
    bench.seconds(2);
    const types: string[] = [];
    for (let fromSeq = this.#collectedUpto[which]! + 1; ; ) {
      const said = bench.ask({ type: 'collect', id: 0, fromSeq, count: 64 });
      for (const entry of said)
        if ('seq' in entry) {
          if (entry.seq !== this.#collectedUpto[which]! + 1)
            throw new Error(`entry ${entry.seq} came after ${this.#collectedUpto[which]}`);
          this.#collectedUpto[which] = entry.seq;
          types.push(entry.type);
        }
      const done = said.find((line) => line.type === 'collected');
      if (done?.type !== 'collected') throw new Error(`collect was answered by ${JSON.stringify(said)}`);
      if (done.nextSeq >= done.endSeq) break;
      fromSeq = done.nextSeq;
    }
    bench.ask({ type: 'forget', id: 0, uptoSeq: this.#collectedUpto[which]! });
    return types;
  }
}
