/**
 * The tones: told apart by their rhythm, so that they carry over running water and to ears that know no pitch.
 * One row a signal; a long is 0.3 s, a short 0.1 s, a quick one 0.04 s.
 */
import { tone } from '../board';
import { SettingName } from '../generated/constants';
import { settingValue } from '../settings/settings';
import { told } from '../state/state';
import { setTimer, stopTimer, Timer } from '../timers/timers';

export enum Signal {
  None = -1,
  /** A second of light has passed: one quick. */
  Second,
  /** Light on the paper: one long. */
  Start,
  /** The light is out, a pass is given or paused: short, long. */
  End,
  /** The hand goes into the light: two short. */
  DodgeIn,
  /** The hand comes out of it: three short. */
  DodgeOut,
  /** The card is to be moved: long, short. */
  MoveCard,
  /** That cannot be: five quick, low. */
  Wrong,
  /** The sheet has all its light: three long. */
  Done,
  /** The bath is to be moved: two quick. */
  Agitate,
  /** The paper comes out to drain: short, short, long. */
  Lift,
}

const ROW_BYTES: usize = 12;
/** How many lengths, the pitch in 10 Hz, then sound, pause, sound ... in 10 ms. */
// biome-ignore format: a row a signal
const ROWS: usize = memory.data<u8>([
  1, 200, 4, 0, 0, 0, 0, 0, 0, 0, 0, 0,
  1, 88, 30, 0, 0, 0, 0, 0, 0, 0, 0, 0,
  3, 88, 10, 10, 30, 0, 0, 0, 0, 0, 0, 0,
  3, 132, 10, 10, 10, 0, 0, 0, 0, 0, 0, 0,
  5, 132, 10, 10, 10, 10, 10, 0, 0, 0, 0, 0,
  3, 66, 30, 10, 10, 0, 0, 0, 0, 0, 0, 0,
  9, 22, 4, 4, 4, 4, 4, 4, 4, 4, 4, 0,
  5, 88, 30, 15, 30, 15, 30, 0, 0, 0, 0, 0,
  3, 200, 4, 6, 4, 0, 0, 0, 0, 0, 0, 0,
  5, 66, 10, 10, 10, 10, 30, 0, 0, 0, 0, 0,
]);
const HZ_IN_UNIT: i32 = 10;
const UNIT_US: i64 = 10_000;

/** Sounds a signal in the place of the one before; a tick waits for nobody and breaks into nothing. */
export function play(which: Signal, nowUs: i64): void {
  if (which == Signal.Second && (told.isSounding || settingValue(SettingName.Metronome) == 0)) return;
  told.signal = which;
  told.length = 0;
  sound(nowUs);
}

/** Timer.Sound has come. */
export function onSoundDue(nowUs: i64): void {
  told.length++;
  sound(nowUs);
}

function sound(nowUs: i64): void {
  const row = ROWS + <usize>told.signal * ROW_BYTES;
  const length = told.length;
  const isOver = length >= i32(load<u8>(row));
  const isPause = isOver || (length & 1) == 1;
  if (isPause) tone(0, 0);
  else tone(i32(load<u8>(row, 1)) * HZ_IN_UNIT, settingValue(SettingName.ToneVolume));
  told.isSounding = !isOver;
  if (isOver) stopTimer(Timer.Sound);
  else setTimer(Timer.Sound, nowUs + <i64>load<u8>(row + usize(length), 2) * UNIT_US);
}
