import { encodeLine, type Message, protocolVersion, schemaHash } from '../../../shared-protocol/index.js';
import { recipeUpload } from '../../firmware/core/session/conversation.js';
import type { ExploredBoard } from './explored-board.js';

/** One thing that may happen next; false when it cannot happen now or would change nothing. */
export interface Action {
  readonly name: string;
  readonly run: (board: ExploredBoard) => boolean;
  /** The same where the board was greeted before. */
  readonly runGreeted?: (board: ExploredBoard) => boolean;
}

const TAP_US = 120_000;
const HOLD_US = 900_000;
const SETTLE_US = 60_000;
/** Past the time in which presses are not listened to. */
const LATER_US = 300_000;
const MINUTE_US = 60_000_000;
const SHORTEST_HALF_US = 2_000;

const hello = encodeLine({ type: 'hello', id: 1, protocol: protocolVersion, schemaHash, hostVersion: 'x' });

/** A laptop begins a conversation. */
export function greet(board: ExploredBoard): void {
  board.receive(hello);
}

/** Each line comes in a conversation of its own, so that it is carried out and not answered from memory. */
function says(name: string, ...messages: readonly Message[]): Action {
  const lines = messages.map((message) => encodeLine(message)).join('');
  const say = (board: ExploredBoard) => {
    board.receive(lines);
    return true;
  };
  return {
    name,
    run: (board) => {
      greet(board);
      return say(board);
    },
    runGreeted: say,
  };
}

function act(name: string, run: (board: ExploredBoard) => void): Action {
  return {
    name,
    run: (board) => {
      run(board);
      return true;
    },
  };
}

/** Gestures with the pedal, finished. */
export function tap(board: ExploredBoard): void {
  board.pedal(true);
  board.advanceUs(TAP_US);
  board.pedal(false);
  board.advanceUs(SETTLE_US);
}

export function hold(board: ExploredBoard): void {
  board.pedal(true);
  board.advanceUs(HOLD_US);
  board.pedal(false);
  board.advanceUs(SETTLE_US);
}

const recipe = recipeUpload('two', 2_000);
const otherRecipe = recipeUpload('other', 3_000);

/** Small doses, so that few steps lead through a whole print. */
const strip: Message = {
  type: 'strip-set',
  id: 2,
  firstMs: 1000,
  stepStops120: 60,
  stepMs: 0,
  patches: 3,
  cover: 'cumulative',
  filter: '',
};

/** Two baths of few seconds. */
const baths: readonly Message[] = [
  { type: 'bath-set', id: 2, bath: 1, baths: 2, label: 'developer', ...bathOf(3, 1, 1), limitCm2: 600 },
  { type: 'bath-set', id: 3, bath: 2, baths: 2, label: 'fixer', ...bathOf(2, 0, 0), limitCm2: 0 },
];

/** The developer's at 18 and 22 C. */
const points: readonly Message[] = [180, 220].map((trayC10, at) => ({
  ...{ type: 'point-set', id: 4 + at, point: at + 1, points: 2, label: 'developer', trayC10 },
  ...{ resinCoatedSeconds: 6 - 3 * at, fibreSeconds: 6 - 3 * at },
}));

function bathOf(seconds: number, drainSeconds: number, agitationSeconds: number) {
  return { resinCoatedSeconds: seconds, fibreSeconds: 2 * seconds, drainSeconds, agitationSeconds };
}

/** Everything that the exploration tries in every state. */
export const actions: readonly Action[] = [
  {
    name: 'tap',
    run: (board) => {
      if (board.around.pedalDown) return false;
      tap(board);
      return true;
    },
  },
  {
    name: 'hold',
    run: (board) => {
      if (board.around.pedalDown) return false;
      hold(board);
      return true;
    },
  },
  act('pedal up or down', (board) => board.pedal(!board.around.pedalDown)),
  {
    name: 'time until the next thing that is due',
    run: (board) => {
      const us = board.nextUs - board.around.nowUs;
      if (!Number.isFinite(us)) return false;
      board.advanceUs(us);
      return true;
    },
  },
  {
    name: 'half of that time',
    run: (board) => {
      const us = Math.floor((board.nextUs - board.around.nowUs) / 2);
      if (!Number.isFinite(us) || us < SHORTEST_HALF_US) return false;
      board.advanceUs(us);
      return true;
    },
  },
  {
    name: 'time until the lamp has gone out',
    run: (board) => {
      const us = board.around.lampOffUs - board.around.nowUs;
      if (!Number.isFinite(us)) return false;
      board.advanceUs(us + LATER_US);
      return true;
    },
  },
  act('0.3 s', (board) => board.advanceUs(LATER_US)),
  act('a minute', (board) => board.advanceUs(MINUTE_US)),
  act('knob down or up', (board) => board.knobPush(!board.around.knobDown)),
  {
    name: 'knob pushed',
    run: (board) => {
      if (board.around.knobDown) return false;
      board.knobPush(true);
      board.advanceUs(TAP_US);
      board.knobPush(false);
      board.advanceUs(SETTLE_US);
      return true;
    },
  },
  act('knob right', (board) => board.knobTurn(1)),
  act('knob left', (board) => board.knobTurn(-1)),
  {
    name: 'the flash fails',
    run: (board) => {
      if (board.around.operation === undefined) return false;
      board.failFlash();
      return true;
    },
  },
  {
    name: 'the power is cut',
    run: (board) => {
      const hasNothingToLose = board.isAtRest && board.around.operation === undefined;
      if (hasNothingToLose || board.around.pedalDown || board.around.knobDown) return false;
      board.cutPower();
      return true;
    },
  },
  says('hello'),
  says('watch', { type: 'watch', id: 2, on: true }),
  says('choose nothing', { type: 'choose', id: 2, job: 'none', name: '' }),
  says('choose the strip', { type: 'choose', id: 2, job: 'strip', name: '' }),
  says('choose the recipe', { type: 'choose', id: 2, job: 'recipe', name: 'two' }),
  says('choose the bracket', { type: 'choose', id: 2, job: 'bracket', name: '' }),
  says('choose the baths', { type: 'choose', id: 2, job: 'process', name: '' }),
  says('choose the safelight test', { type: 'choose', id: 2, job: 'safelight-test', name: '' }),
  says('choose the stray light test', { type: 'choose', id: 2, job: 'stray-light-test', name: '' }),
  says('choose the lamp test', { type: 'choose', id: 2, job: 'lamp-test', name: '' }),
  says('choose a plain exposure', { type: 'choose', id: 2, job: 'plain', name: '' }),
  says('choose the checkup', { type: 'choose', id: 2, job: 'checkup', name: '' }),
  says('choose the clock', { type: 'choose', id: 2, job: 'clock', name: '' }),
  says('baths follow', { type: 'set-setting', id: 2, name: 'bath-follows', value: 1 }),
  says('safe for a minute', { type: 'set-setting', id: 2, name: 'safe-minutes', value: 1 }),
  says('set the baths', ...baths),
  says('times by temperature', ...points),
  says('the tray is warm', { type: 'set-setting', id: 2, name: 'tray-c10', value: 240 }),
  says('by the first tone', { type: 'set-setting', id: 2, name: 'first-tone-factor', value: 4 }),
  says('a bath mixed', { type: 'bath-renew', id: 2, bath: 1 }),
  says('set the strip', strip),
  says('push the recipe', ...recipe),
  says('push another recipe', ...otherRecipe),
  says('choose the other recipe', { type: 'choose', id: 2, job: 'recipe', name: 'other' }),
  says('drop the recipe', { type: 'recipe-remove', id: 2, name: 'two' }),
  says('lens check off', { type: 'set-setting', id: 2, name: 'lens-check', value: 0 }),
  says('dodges run through', { type: 'set-setting', id: 2, name: 'pause-for-dodges', value: 0 }),
  says('set the clock', { type: 'set-clock', id: 2, epochMs: 1_804_276_800_000 }),
  says('forget', { type: 'forget', id: 2, uptoSeq: 1 }),
  says('may new firmware come', { type: 'make-way', id: 2, ask: true }),
  act('half a line', (board) => board.receive('["collect",1,')),
  act('a line that is none', (board) => board.receive('AT+CGMI\r\n')),
];

/** What only happens before anything else. */
export const preparations: readonly Action[] = [
  act('a log with little room', (board) => board.fillLog(1)),
  act('a log with no room', (board) => board.fillLog(0)),
];

const upToReady = [
  'push the recipe',
  '0.3 s',
  'choose the recipe',
  'lens check off',
  '0.3 s',
  'tap',
  '0.3 s',
  'tap',
  '0.3 s',
];
const onePulse = ['tap', 'time until the lamp has gone out'];

const stripReady = ['set the strip', '0.3 s', 'choose the strip', 'lens check off', '0.3 s', 'tap', '0.3 s'];

const bracketReady = [
  ...['push the recipe', '0.3 s', 'choose the recipe', 'choose the bracket', 'lens check off', '0.3 s'],
  ...['tap', '0.3 s', 'tap', '0.3 s'],
];
const lampTestReady = ['choose the lamp test', 'lens check off', '0.3 s', 'tap', '0.3 s', ...onePulse];
const fogged = ['choose the safelight test', 'lens check off', '0.3 s', 'tap', '0.3 s', ...onePulse, 'tap'];
const plainReady = ['choose a plain exposure', 'lens check off', '0.3 s', 'tap', '0.3 s'];
/** The pedal, looked at once more; then the knob missing, display, tone and flash fine: up to the mains box. */
const checkupToTheBox = ['choose the checkup', '0.3 s', ...Array.from({ length: 7 }, () => 'tap'), '0.3 s'];
const sixMinutes = Array.from({ length: 6 }, () => 'a minute');
const bathsReady = ['set the baths', '0.3 s', 'choose the baths', '0.3 s', 'tap', '0.3 s'];

const bathsByTone = [
  'set the baths',
  '0.3 s',
  'by the first tone',
  '0.3 s',
  'choose the baths',
  '0.3 s',
  'tap',
  '0.3 s',
];
const bathsTooWarm = [
  ...['set the baths', '0.3 s', 'times by temperature', '0.3 s', 'the tray is warm', '0.3 s'],
  ...['choose the baths', '0.3 s', 'tap', '0.3 s'],
];

/** So many taps, the lights and questions between them all through. */
const taps = (count: number) => Array.from({ length: count }, () => ['tap', 'a minute']).flat();

/** Where the exploration begins: just started, and far into a print, which few steps from the start would not reach. */
export const beginnings: readonly (readonly string[])[] = [
  [],
  upToReady,
  [...upToReady, ...onePulse],
  [...upToReady, ...onePulse, ...onePulse],
  [...upToReady, ...onePulse, ...onePulse, 'tap', '0.3 s', ...onePulse],
  [
    ...upToReady,
    'push another recipe',
    ...onePulse,
    'hold',
    'push another recipe',
    '0.3 s',
    'choose the other recipe',
  ],
  [...upToReady, ...onePulse, ...onePulse, 'knob left', 'tap'],
  [...stripReady, ...onePulse, ...onePulse, ...onePulse],
  ['baths follow', '0.3 s', 'set the baths', '0.3 s', ...stripReady, ...onePulse, ...onePulse, ...onePulse],
  ...[bracketReady, [...bracketReady, ...onePulse, ...onePulse]],
  ...[lampTestReady, [...lampTestReady, 'tap', 'time until the lamp has gone out']],
  ['choose the stray light test', ...fogged.slice(1), 'a minute'],
  ...[fogged, [...fogged, ...sixMinutes], [...fogged, ...sixMinutes, 'a minute', ...onePulse]],
  // Sheets that wait to be read.
  [...bracketReady, ...taps(8), 'knob pushed'],
  ['choose the lamp test', 'lens check off', '0.3 s', 'tap', '0.3 s', ...taps(8), 'knob pushed'],
  ['set the baths', '0.3 s', 'times by temperature', '0.3 s', 'choose the baths', '0.3 s', 'tap', '0.3 s'],
  ...[bathsReady, [...bathsReady, 'tap', '0.3 s']],
  ...[[...bathsByTone, 'tap', '0.3 s'], bathsTooWarm],
  ...[plainReady, [...plainReady, ...onePulse]],
  ...[
    checkupToTheBox,
    [...checkupToTheBox, 'tap', 'tap', '0.3 s', 'tap', 'time until the lamp has gone out'],
  ],
  ...[
    ['a log with no room', '0.3 s'],
    ['a log with little room', ...stripReady],
    ['a log with little room', ...upToReady.slice(0, -4)],
  ],
  ['0.3 s', 'may new firmware come', 'knob right', 'knob right', 'knob right'],
];
