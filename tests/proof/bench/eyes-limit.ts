import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { Random } from '../../setup/random.js';
import { leastSpreadStops, likeliestMs, type Patch, shareWithin, tabled } from './best-reader.js';
import { percent, type Section } from './page.js';
import { Printer, type Reading } from './printer.js';
import { byStops, type Range, SIX_STOPS, USUAL } from './strips-needed.js';

const NEGATIVES = 1000;
const SIGMA = 0.02;
const KNOWN_STOPS = 1 / 12;
const STRIPS = 2;

export interface Limit {
  /** The share of bases within a twelfth of a stop that the patches allow, that the best reader finds, and the board. */
  readonly allowed: number;
  readonly best: number;
  readonly board: number;
  /** The best reader, after the first strip alone. */
  readonly bestAfterOne: number;
  /** Root mean square of what each is off by, in stops. */
  readonly allowedStops: number;
  readonly bestStops: number;
  readonly boardStops: number;
}

/** One seen strip after another, as the board proposes them, and what two readers make of them. */
export function eyesLimit(range: Range, saysBetween: boolean, negatives = NEGATIVES, sigma = SIGMA): Limit {
  const random = new Random(1);
  const printer = new Printer(random, sigma, saysBetween, true);
  const curve = tabled(printer.curve);
  const found = Array.from({ length: negatives }, () => {
    const rightMs = range.shortestMs * 2 ** (random.share() * range.stops);
    const patches: Patch[] = [];
    const boardMs = readByBoard(printer, rightMs, patches);
    const off = (ms: number) => Math.log2(ms / rightMs);
    return {
      spread: leastSpreadStops(
        curve,
        rightMs,
        patches.map(({ doseMs }) => doseMs),
        sigma,
      ),
      first: off(likeliestMs(curve, patches.slice(0, FIRST_PATCHES))),
      best: off(likeliestMs(curve, patches)),
      board: off(boardMs),
    };
  });
  const mean = (of: (one: (typeof found)[number]) => number) =>
    found.reduce((sum, one) => sum + of(one), 0) / found.length;
  const within = (off: number) => Number(Math.abs(off) <= KNOWN_STOPS * 1.01);
  return {
    allowed: mean(({ spread }) => shareWithin(KNOWN_STOPS, spread)),
    best: mean(({ best }) => within(best)),
    board: mean(({ board }) => within(board)),
    bestAfterOne: mean(({ first }) => within(first)),
    allowedStops: Math.sqrt(mean(({ spread }) => spread ** 2)),
    bestStops: Math.sqrt(mean(({ best }) => best ** 2)),
    boardStops: Math.sqrt(mean(({ board }) => board ** 2)),
  };
}
const FIRST_PATCHES = 6;

/** The time that the board has for the base after two strips; all that was seen of them goes into `patches`. */
function readByBoard(printer: Printer, rightMs: number, patches: Patch[]): number {
  let before: Parameters<typeof byStops>[0];
  for (let strips = 0; strips < STRIPS; strips++) {
    const strip = byStops(before);
    const dosesMs = loadPlanner()
      .planStrip(strip)
      .patches.map(({ doseMs }) => doseMs);
    const reading: Reading = printer.read(rightMs, dosesMs);
    patches.push(...dosesMs.map((doseMs, at) => ({ doseMs, over: printer.lastSeen[at]! })));
    before = { strip, reading };
  }
  return before!.reading.bestMs;
}

export function eyesLimitSection(): Section {
  const cases: [string, Range][] = [
    ['anywhere in six stops', SIX_STOPS],
    ['within 5 to 30 s', USUAL],
  ];
  return {
    title: 'What two strips could tell, and what the board makes of them',
    about:
      `${NEGATIVES} seeded negatives, each patch seen with an error of its own, spread normally with sigma ${SIGMA} in density; the ` +
      "strips are the board's. Allowed: what the paper's curve at those patches lets anybody know (Cramer and Rao). Best reader: " +
      'the most likely base by all patches of both strips, the curve known. Board: the patch that looks nearest on the second strip, ' +
      'or half-way between two. Shares within 1/12 stop; beside them the root mean square, in stops.',
    columns: [
      'right exposure',
      'says',
      'allowed',
      'best reader',
      'after one strip',
      'board',
      'board : best',
      'allowed, off by',
      'best reader',
      'board',
    ],
    rows: cases.flatMap(([what, range]) =>
      [false, true].map((saysBetween) => {
        const limit = eyesLimit(range, saysBetween);
        return [
          what,
          saysBetween ? `'between two' as well` : 'the nearest patch',
          ...[limit.allowed, limit.best, limit.bestAfterOne, limit.board, limit.board / limit.best].map(
            percent,
          ),
          ...[limit.allowedStops, limit.bestStops, limit.boardStops].map((stops) => stops.toFixed(3)),
        ];
      }),
    ),
  };
}
