/**
 * The events: everything that can happen to the core. The board calls one export at a time, in order of
 * time, with the time in microseconds since power-up; the core answers with effects (see board.ts).
 * Same events in, same effects out, bit for bit, wherever this runs.
 *
 * Whatever the event, first comes what was due before it, then the event changes the state, and last comes what it
 * leaves to do: the flash's next operation; and, asked here once and said where it differs, what sounds, what a
 * watching laptop is told, what the panel shows, and the next deadline.
 */

import './state/place';
import { announceMoves } from './evening/announce';
import { eveningIsIdle, lookForRoom, refreshPlan, startEvening } from './evening/evening';
import { lightIfSafe, onNextPiece, onPulseDue } from './evening/exposing';
import { onGesture, onLampEnded } from './evening/foot';
import { endKeepingRecipe, KEEP_TICKET } from './evening/keep';
import { sheetWaits } from './evening/kept-sheet';
import { onKnob, onTurn } from './evening/knob-hand';
import { onPaperOut, onSecond } from './evening/transitions';
import { endKeepingInBackground, keepWhatWaits, UNKEPT_TICKET } from './evening/unkept';
import { holdKnob, settleKnob, takeKnobEdge } from './knob/knob';
import { LOG_TICKETS, logFinished } from './log/outbox';
import { drawPanel } from './panel/panel';
import { holdPedal, jamPedal, settlePedal, takePedalEdge } from './pedal/pedal';
import { SESSION_TICKETS } from './protocol/keeping';
import { lineWritable, receiveByte, sessionStored } from './protocol/session';
import { clearPanel } from './rows/row';
import { openSettings } from './settings/kept-settings';
import { soundWhatHappened } from './sound/occasions';
import { onSoundDue } from './sound/signals';
import { clearState } from './state/state';
import {
  finishedCode,
  finishedTicket,
  flashFinished,
  idle,
  openStorage,
  runFlash,
  takeFinished,
} from './storage/flash-queue';
import { askForDeadline, clearTimers, deadlineServed, dueUs, firstDue, Timer } from './timers/timers';

export * from './planning';

/** First event after power-up, once for each instance, whose memory is empty; `cause` is a StartCause of the schema, `detail` the trap's number or 0. */
export function boot(nowUs: i64, cause: i32, detail: i32): void {
  clearState();
  clearTimers();
  clearPanel();
  openStorage();
  openSettings();
  startEvening(cause, detail, nowUs);
  hasHappened = true;
  settleAndLight(nowUs);
}

/** One byte from the serial line. Nothing that comes of it lights the lamp: what is due waits its own event. */
export function received(byte: i32, nowUs: i64): void {
  if (receiveByte(byte, nowUs)) hasHappened = true;
  settle(nowUs);
}

/** The serial line has room for a whole line again after it refused one. */
export function writable(nowUs: i64): void {
  lineWritable();
  settle(nowUs);
}

/** The pedal's contact as the pin shows it, bounces and all; `nowUs` is when the edge was seen. */
export function pedalEdge(down: bool, nowUs: i64): void {
  catchUp(nowUs);
  takePedalEdge(down, nowUs);
  settleAndLight(nowUs);
}

/** The knob's push contact, likewise. */
export function knobEdge(down: bool, nowUs: i64): void {
  catchUp(nowUs);
  takeKnobEdge(down, nowUs);
  settleAndLight(nowUs);
}

/** The knob went `detents` steps, clockwise positive. */
export function knobTurned(detents: i32, nowUs: i64): void {
  catchUp(nowUs);
  onTurn(detents, nowUs);
  hasHappened = true;
  settleAndLight(nowUs);
}

/** The lamp went off, by its alarm or by `lampOff`, after `onUs` of relay-on time as measured. */
export function lampEnded(onUs: u32, nowUs: i64): void {
  catchUp(nowUs);
  onLampEnded(onUs, nowUs);
  hasHappened = true;
  settleAndLight(nowUs);
}

/** The moment asked for with `wakeAtUs` has come. */
export function deadline(nowUs: i64): void {
  deadlineServed();
  catchUp(nowUs);
  settleAndLight(nowUs);
}

/** The flash operation under way is over; `ok` is false when it was refused or did not verify. */
export function flashDone(ok: bool, nowUs: i64): void {
  catchUp(nowUs);
  flashFinished(ok);
  hasHappened = true;
  while (takeFinished()) finished(nowUs);
  lookForRoom();
  settleAndLight(nowUs);
}

/** Does what has become due, each at its own time, however late the board tells of it. */
function catchUp(nowUs: i64): void {
  for (let timer = firstDue(nowUs); timer >= 0; timer = firstDue(nowUs)) {
    const atUs = dueUs(timer);
    if (timer == Timer.Sound) {
      onSoundDue(atUs);
      continue;
    }
    fire(timer, atUs);
    hasHappened = true;
    soundWhatHappened(atUs);
    announceMoves(atUs);
  }
}

/** Something that the panel may show. */
let hasHappened: bool = false;

function fire(timer: Timer, atUs: i64): void {
  switch (timer) {
    case Timer.PedalContact:
      onGesture(settlePedal(atUs), atUs);
      return;
    case Timer.KnobContact:
      onKnob(settleKnob(atUs), atUs);
      return;
    case Timer.KnobHold:
      onKnob(holdKnob(), atUs);
      return;
    case Timer.PedalHold:
      onGesture(holdPedal(), atUs);
      return;
    case Timer.PedalStuck:
      onGesture(jamPedal(), atUs);
      return;
    case Timer.Piece:
      onNextPiece(atUs);
      return;
    case Timer.Pulse:
      onPulseDue();
      return;
    case Timer.PaperOut:
      onPaperOut(atUs);
      return;
    case Timer.Second:
      onSecond(atUs);
      return;
  }
}

/** After every event but those of the line, which must not light the lamp. */
function settleAndLight(nowUs: i64): void {
  lightIfSafe(nowUs);
  settle(nowUs);
}

/** The panel comes before the flash, which keeps the display waiting while it is written. */
function settle(nowUs: i64): void {
  const happened = hasHappened;
  say(nowUs);
  if (eveningIsIdle()) {
    keepWhatWaits();
    idle();
  } else if (happened && sheetWaits()) {
    keepWhatWaits();
  }
  runFlash();
  while (takeFinished()) {
    finished(nowUs);
    hasHappened = true;
    runFlash();
  }
  say(nowUs);
  askForDeadline();
}

/** Asked once after what has happened. */
function say(nowUs: i64): void {
  if (!hasHappened) return;
  hasHappened = false;
  refreshPlan(nowUs);
  soundWhatHappened(nowUs);
  announceMoves(nowUs);
  drawPanel(nowUs);
}

function finished(nowUs: i64): void {
  if (finishedTicket >= LOG_TICKETS) logFinished(finishedTicket, finishedCode);
  else if (finishedTicket >= SESSION_TICKETS) sessionStored(finishedTicket, finishedCode, nowUs);
  else if (finishedTicket == KEEP_TICKET) endKeepingRecipe(finishedCode, nowUs);
  else if (finishedTicket == UNKEPT_TICKET) endKeepingInBackground(finishedCode, nowUs);
}
