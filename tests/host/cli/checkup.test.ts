import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { Flash } from '../../../host/board/sim/flash.js';
import { offerPort } from '../../../host/board/sim/pty.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { Hands } from '../../../host/cli/simulator/hands.js';
import type { Act } from '../../../host/cli/simulator/keys.js';
import { limits } from '../../../shared-protocol/limits.js';
import { treadle } from './treadle.js';

const SHELF_AT = 0x12_0000 / limits.sectorBytes;
const AGAIN_US = 400_000;

const undo: (() => void)[] = [];
afterEach(() => {
  for (const step of undo.splice(0).reverse()) step();
});

type Deed = Exclude<Act, 'quit'> | ((board: SimulatedBoard) => void);

/** What a printer does at each screen, first match first; nothing where the list is at its end. */
type Printer = readonly (readonly [screen: RegExp, ...deeds: Deed[]])[];

const allWell: Printer = [
  [/^Tap check/, 'tap'],
  [/Press the pedal/, 'tap'],
  [/right 3, left 3\|then push/, 'push'],
  [/right 3, left \d\|then push/, 'turn-left'],
  [/right \d, left 0\|then push/, 'turn-right'],
  [/^Tap yes Hold rest\|█/, 'tap'],
  [/\|(Tone|Flash|Safelight relay|Lamp relay)\|/, 'tap'],
  [/^Unplugged/, 'tap'],
];

/** The board at a port, with a printer who looks at its display now and then, each time it is another or after a while. */
async function checkedUp(printer: Printer, flash = new Flash(), ...words: string[]) {
  const board = new SimulatedBoard({ speed: 20, flash });
  const port = await offerPort(board.plug());
  const folder = mkdtempSync(join(tmpdir(), 'treadle-test-'));
  const hands = new Hands(board);
  let isOver = false;
  // Once the fault was met, there is nothing more to see.
  let isLeaving = false;
  let isBegun = false;
  const look = () => {
    if (isOver) return;
    const screen = board.panel.map((row) => row.trimEnd()).join('|');
    const isAtRest = screen.startsWith('Tap check');
    const at = isBegun && isAtRest ? -1 : printer.findIndex(([pattern]) => pattern.test(screen));
    const isFault = at < printer.length - allWell.length;
    const deeds: readonly Deed[] =
      at < 0 ? [] : isLeaving && !isFault ? ['hold'] : (printer[at]!.slice(1) as Deed[]);
    if (at >= 0 && isFault && !isAtRest) isLeaving = true;
    if (at >= 0 && isAtRest) isBegun = true;
    for (const deed of deeds ?? []) typeof deed === 'string' ? hands.act(deed) : deed(board);
    board.timeline.at(board.nowUs + AGAIN_US, look);
  };
  board.timeline.at(board.nowUs + AGAIN_US, look);
  undo.push(
    () => board.close(),
    () => port.close(),
    () => rmSync(folder, { recursive: true }),
  );
  const ran = await treadle(['checkup', '--port', port.path, ...words]);
  isOver = true;
  return { ...ran, board };
}

const withDeeds = (...before: Printer): Printer => [...before, ...allWell];

interface Told {
  readonly isFine: boolean;
  readonly steps: readonly { readonly step: string; readonly result: string; readonly advice?: string }[];
  readonly startedBy?: string;
}

async function foundBy(printer: Printer, flash = new Flash()) {
  const { code, out } = await checkedUp(printer, flash, '--json');
  const told = JSON.parse(out) as Told;
  const faults = told.steps.filter(({ result }) => result === 'fault').map(({ step }) => step);
  const advice = told.steps.map(({ advice }) => advice ?? '').join('');
  return { code, told, faults, advice };
}

describe('treadle checkup over a port', () => {
  it('goes with the printer through all steps of a board that is well, and says so', async () => {
    const { code, out, board } = await checkedUp(allWell);
    expect(code, out).toBe(0);
    expect(out).toMatch(/pedal: fine, closed for 12\d ms, 0 bounces/);
    expect(out).toMatch(/knob: fine, 3 clicks right, 3 left/);
    expect(out).toMatch(/flash: fine, 0 of 96 sectors of the shelf bad/);
    expect(out).toMatch(/Pull the plug of the mains box[\s\S]+lamp relay and supply: fine\nAll is well\.\n$/);
    expect(board.lampEdges.filter(({ on }) => on)).toHaveLength(100);
  });

  it.each<[string, Printer, string, RegExp]>([
    ['the pedal never closes', [[/^Tap check|Press the pedal/, 'push']], 'pedal', /GPIO 6 to GND/],
    [
      'A and B of the knob are swapped',
      [
        [/A and B are swapped/, 'push'],
        [/right 0, left \d/, 'turn-left'],
      ],
      'knob',
      /swap A \(GPIO 7\) and B \(GPIO 8\)/,
    ],
    ['the push of the knob does nothing', [[/\|right 3, left 3\|/, 'tap']], 'knob', /closes GPIO 9 to GND/],
    [
      'the display stays dark',
      [[/^Tap yes Hold rest\|█/, 'push']],
      'display',
      /SDA \(GPIO 4\) and SCL \(GPIO 5\)/,
    ],
    ['no tone is heard', [[/\|Tone\|/, 'push']], 'tone', /GPIO 10 goes through 1 kΩ to the piezo/],
    [
      "the safelight's relay does not click",
      [[/\|Safelight relay\|/, 'push']],
      'safelight',
      /GPIO 3 through 1 kΩ/,
    ],
    [
      "the lamp's relay does not click",
      [[/^Tap yes.*\|Lamp relay\|/, 'push']],
      'lamp',
      /GPIO 2 through 1 kΩ/,
    ],
  ])('where %s finds that, and says which wire and which pin', async (_, before, step, words) => {
    const { code, faults, advice } = await foundBy(withDeeds(...before));
    expect(code).toBe(1);
    expect(faults).toEqual([step]);
    expect(advice).toMatch(words);
  });

  it('finds a pedal that stays down, and ends there with the lamp off', async () => {
    const { code, told, advice } = await foundBy([
      [/^Tap check/, 'tap'],
      [/Press the pedal/, (board) => board.pedal(true)],
    ]);
    expect(code).toBe(1);
    expect(told.steps[0]).toMatchObject({ step: 'pedal', result: 'fault' });
    expect(told.steps[1]).toMatchObject({ result: 'not-checked' });
    expect(advice).toMatch(/GPIO 6 must show 3\.3 V/);
  });

  it('counts sectors that are worn out', async () => {
    const flash = new Flash();
    for (const sector of [1, 2]) flash.wearOut(SHELF_AT + sector);
    const { faults, told } = await foundBy(allWell, flash);
    expect(faults).toEqual(['flash']);
    expect(told.steps[4]).toMatchObject({ figures: '2 of 96 sectors of the shelf bad' });
  });

  it('tells of a board that starts anew among the clicks, and why', async () => {
    let pulls = 0;
    const dip = (board: SimulatedBoard) => {
      if (++pulls === 10) board.reset('power');
    };
    const { code, told, faults, advice } = await foundBy(withDeeds([/^Press pause/, dip]));
    expect(code).toBe(1);
    expect(faults).toEqual(['lamp']);
    expect(told.startedBy).toBe('power');
    expect(advice).toMatch(/a dip of its 3\.3 V/);
  });

  it('leaves the relays alone where the printer says no at the mains box', async () => {
    const { code, told, board } = await (async () => {
      const ran = await checkedUp(withDeeds([/^Unplugged/, 'push']), new Flash(), '--json');
      return { ...ran, told: JSON.parse(ran.out) as Told };
    })();
    expect(code).toBe(1);
    expect(told.steps.slice(5).map(({ result }) => result)).toEqual(['fault', 'not-checked', 'not-checked']);
    expect(board.lampEdges).toEqual([]);
  });
});
