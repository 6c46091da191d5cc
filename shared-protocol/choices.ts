import { type SettingName, settings } from './settings.js';
import { choice, wordsByNumber } from './wire-types.js';

// Each word has its number, by which the board's flash and its core know it: a number is given once and for ever, and a
// new word takes the next one. What is held is in frozen-formats.json.

export const errorCodes = {
  'bad-line': 'this is not a line of the protocol',
  'bad-crc': 'the checksum does not fit the line',
  'unknown-type': 'this board does not know that message',
  'bad-field': 'a field is not what the schema allows',
  busy: 'the board is in the middle of something',
  full: 'there is no room for it',
  'not-found': 'there is nothing of that name',
  'not-allowed': 'not in this state',
  damaged: 'it is damaged: send it again',
} as const;
export type ErrorCode = keyof typeof errorCodes;

export const errorCode = choice('ErrorCode', {
  'bad-line': 0,
  'bad-crc': 1,
  'unknown-type': 2,
  'bad-field': 3,
  busy: 4,
  full: 5,
  'not-found': 6,
  'not-allowed': 7,
  damaged: 8,
} satisfies Record<ErrorCode, number>);

/** Where the evening stands; the lamp may be on in `focus` and `exposing` only. */
export const runState = choice('RunState', {
  rest: 0,
  focus: 1,
  'lens-check': 2,
  ready: 3,
  exposing: 4,
  paused: 5,
  'between-dodges': 6,
  done: 7,
  stuck: 8,
  /** After a strip: the knob turns to what is seen on the dry, or at least fixed, paper. */
  choosing: 9,
  /** A bath, or a step of the safelight test, waits for the pedal; then it runs. */
  'step-ready': 10,
  timing: 11,
  /** The knob is asked something beside any light: under which name a print is kept. */
  asking: 12,
  /** A hand allowed it: in a moment the board is a drive that takes new firmware. */
  leaving: 13,
});

/** What a sheet of paper, or an exposure on it, is for. */
export const exposureKind = choice('ExposureKind', {
  base: 0,
  burn: 1,
  strip: 2,
  focus: 3,
  bracket: 4,
  'lamp-test': 5,
  safelight: 6,
  plain: 7,
  stray: 8,
  /** The relay's clicks of the checkup, with no lamp at it. */
  checkup: 9,
});
export const outcome = choice('Outcome', { complete: 0, stopped: 1, interrupted: 2 });
export const passKind = choice('PassKind', { base: 0, burn: 1 });
export const cover = choice('Cover', { cumulative: 0, separate: 1 });
export const job = choice('Job', {
  none: 0,
  strip: 1,
  recipe: 2,
  bracket: 3,
  process: 4,
  'safelight-test': 5,
  'lamp-test': 6,
  /** A time from the knob, and no recipe. */
  plain: 7,
  /** The safelight test with the safelight off all the time. */
  'stray-light-test': 8,
  /** No light: the date and the time, by the knob. */
  clock: 9,
  /** The board looks at itself at the bench: no paper, and the relays click with the mains box unplugged. */
  checkup: 10,
});
/** What the checkup looks at, in its order; `unplugged` is what the printer says before the relays click. */
export const checkupStep = choice('CheckupStep', {
  pedal: 0,
  knob: 1,
  display: 2,
  tone: 3,
  flash: 4,
  unplugged: 5,
  safelight: 6,
  lamp: 7,
});
/** What the printer saw on a strip. */
export const verdict = choice('Verdict', { patch: 0, between: 1, 'too-dark': 2, 'too-light': 3 });
/** What of a recipe the knob turned. */
export const turnable = choice('Turnable', { base: 0, pass: 1, dodge: 2 });
/** What a test on paper found out. */
export const finding = choice('Finding', { 'lamp-lag-ms': 0, 'safe-minutes': 1, 'dark-minutes': 2 });
export const recipeText = choice('RecipeText', { title: 0, negative: 1, paper: 2 });

/** Why the board started; numbers 1.. are written to the watchdog's scratch by the board layer. */
export const startCause = choice('StartCause', {
  power: 0,
  'reset-pin': 1,
  watchdog: 2,
  trap: 3,
  'stack-overflow': 4,
  'flash-fault': 5,
  /** The boot program put new firmware in, and this is its first start. */
  'new-firmware': 6,
});

/** How it stands with a board that was asked to make way for new firmware. */
export const makingWay = choice('MakingWay', { 'not-asked': 0, asked: 1, leaving: 2 });

/** The serial hardware's sticky counters. */
export const linkFault = choice('LinkFault', {
  overrun: 0,
  framing: 1,
  parity: 2,
  break: 3,
  'lost-in-ring': 4,
});

const settingNumbers = Object.fromEntries(
  Object.entries(settings).map(([name, { number }]) => [name, number]),
);
export const settingName = choice('SettingName', settingNumbers as Record<SettingName, number>);
/** Every setting in its place by its number. */
export const settingNames = wordsByNumber('settings', settingNumbers) as SettingName[];
