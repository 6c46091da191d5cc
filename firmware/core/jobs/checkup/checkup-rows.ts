/** The checkup on the panel: what is looked at, and what a tap or a push says. */
import { CheckupStep } from '../../generated/constants';
import { ascii } from '../../protocol/texts';
import { beginRow, fillRow, put, putNumber } from '../../rows/row';
import { checkup } from '../../state/state';
import { isSwapped } from './checkup';

const WORDS_BYTES: usize = 6;
/** What is looked at, and what is to be said of it: words, or those before and between the two figures. */
// biome-ignore format: a row a step
const WORDS: usize = memory.data<u16>([
  /* pedal */     u16(ascii('Press the pedal')),      u16(ascii('bounces ')), u16(ascii(', ms ')),
  /* knob */      u16(ascii('Turn right 3, left 3')), u16(ascii('right ')), u16(ascii(', left ')),
  /* display */   u16(ascii('Dots, light fades?')),   u16(ascii('')), 0,
  /* tone */      u16(ascii('Tone')),                 u16(ascii('Heard it each time?')), 0,
  /* flash */     u16(ascii('Flash')),                u16(ascii('bad sectors ')), u16(ascii(' of ')),
  /* unplugged */ u16(ascii('Mains box unplugged,')), u16(ascii('no paper below?')), 0,
  /* safelight */ u16(ascii('Safelight relay')),      u16(ascii('Heard it each time?')), 0,
  /* lamp */      u16(ascii('Lamp relay')),           u16(ascii('Heard it each time?')), 0,
]);

export function checkupPrompt(): usize {
  switch (checkup.step) {
    case CheckupStep.Knob:
      return ascii('Tap no Hold rest');
    case CheckupStep.Unplugged:
      return ascii('Unplugged? Tap yes');
    default:
      return ascii('Tap yes Hold rest');
  }
}

export function drawCheckup(): void {
  put(ascii('Checkup'));
}

export function drawCheckupNote(): void {
  putFigure(ascii('Faults: '), checkup.faults);
}

/** Before and while the relay pulls in. */
export function drawPullIns(): void {
  beginRow(2);
  put(ascii('Lamp relay'));
  beginRow(3);
  put(ascii('Screen must stay'));
}

/** Rows 1 to 3; row 1 is begun. */
export function drawCheckupStep(): void {
  const step = checkup.step;
  if (step == CheckupStep.Display && (checkup.seconds & 3) == 0) {
    for (let row = 1; row <= 3; row++) fillRow(row);
    return;
  }
  const words = WORDS + usize(step) * WORDS_BYTES;
  put(load<u16>(words));
  beginRow(2);
  put(load<u16>(words, 2));
  const between = load<u16>(words, 4);
  if (between != 0) {
    putNumber(checkup.first);
    putFigure(between, checkup.second);
  }
  beginRow(3);
  if (step != CheckupStep.Knob) put(ascii('Push knob: no'));
  else put(isSwapped() ? ascii('A and B are swapped') : ascii('then push'));
}

function putFigure(words: usize, value: i32): void {
  put(words);
  putNumber(value);
}
