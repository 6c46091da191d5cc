import type { Job, Status } from '../link/board.js';

/** The board's states for people. */
export const stateWords: Readonly<Record<Status['state'], string>> = {
  rest: 'rest',
  focus: 'focus',
  'lens-check': 'lens check',
  ready: 'ready',
  exposing: 'exposing',
  paused: 'paused',
  'between-dodges': 'between dodges',
  done: 'done',
  stuck: 'pedal stuck',
  choosing: 'reading what is on the paper',
  'step-ready': 'waiting to start',
  timing: 'timing',
  asking: 'asking the knob',
  leaving: 'making way for new firmware',
};

/** What the pedal starts. */
export const jobWords: Readonly<Record<Job, string>> = {
  none: 'nothing chosen',
  strip: 'strip',
  recipe: 'recipe',
  bracket: 'bracket of recipe',
  process: 'baths',
  'safelight-test': 'safelight test',
  'stray-light-test': 'stray light test',
  'lamp-test': 'lamp test',
  plain: 'plain exposure',
  clock: 'date and time',
  checkup: 'checkup',
};
