/**
 * A core for trying the board layer: it knows no darkroom, does what it is told by bytes on the serial line
 * (decimal digits, then a letter), and says every event that it gets, with its time.
 */
import {
  boardId,
  displayLight,
  exposeUs,
  flashErase,
  flashProgram,
  flashRead,
  lampOff,
  linkFaults,
  safelight,
  sendBytes,
  showLine,
  tone,
  wakeAtUs,
} from '../../../firmware/core/board';

const LINE_BYTES = 240;
const PAGE_BYTES = 256;
const COLUMNS = 20;
const ROWS = 4;
const TOO_DEEP = 1000;
const LAST_WORD: usize = 0xfffc;
const DANCE_STEP_US: i64 = 10_000;

const out = memory.data(256);
const page = memory.data(PAGE_BYTES);
let length = 0;
let value: i64 = 0;
let onUs: u32 = 0;
let quiet = false;
let flooding = false;
let dancing = false;
let danced = 0;
let afterLight = 0;
let lightFromFlash = false;

function put(byte: i32): void {
  store<u8>(out + length, <u8>byte);
  length++;
}

function putNumber(number: i64): void {
  if (number < 0) {
    put(45);
    number = -number;
  }
  if (number >= 10) putNumber(number / 10);
  put(48 + <i32>(number % 10));
}

/** A line: a letter, a number, the time. */
function say(letter: i32, number: i64, nowUs: i64): void {
  if (quiet) return;
  length = 0;
  put(letter);
  put(32);
  putNumber(number);
  put(32);
  putNumber(nowUs);
  put(10);
  sendBytes(out, length);
}

/** Fills the line's buffer until the board refuses. */
function flood(): void {
  memory.fill(out, 46, LINE_BYTES - 1);
  store<u8>(out + LINE_BYTES - 1, 10);
  while (flooding && sendBytes(out, LINE_BYTES)) {}
}

/** Every cell of the display changes. */
function dance(nowUs: i64): void {
  danced++;
  for (let row = 0; row < ROWS; row++) {
    memory.fill(out, <u8>(65 + ((danced + row) % 26)), COLUMNS);
    showLine(row, out, COLUMNS);
  }
  wakeAtUs(nowUs + DANCE_STEP_US);
}

function deepen(depth: i32): i32 {
  return depth == 0 ? 0 : deepen(depth - 1) + load<u8>(page + (depth & 255)) + 1;
}

/** Things that must not happen, on purpose. */
function misbehave(how: i32): void {
  if (how == 116) unreachable();
  else if (how == 104) while (load<u8>(page) != 1) {}
  else if (how == 114) say(114, deepen(TOO_DEEP), 0);
  else if (how == 98) showLine(0, 0xfff8, 20);
  else if (how == 100) say(100, <i64>(1 / <i32>value), 0);
  else if (how == 108) exposeUs(<u32>value);
  else reachOut(how, load<u8>(page));
}

/** At the memory's end and past it; `nothing` is 0, which the compiler cannot know. */
function reachOut(how: i32, nothing: usize): void {
  if (how == 107) say(107, load<u32>(LAST_WORD + nothing), 0);
  else if (how == 118) say(118, load<u32>(LAST_WORD + 1 + nothing), 0);
  else if (how == 119) store<u32>(LAST_WORD + 1 + nothing, 0);
  else if (how == 120) say(120, load<u8>(nothing - 1, 16), 0);
}

export function boot(nowUs: i64, cause: i32, detail: i32): void {
  lampOff();
  wakeAtUs(i64.MAX_VALUE);
  say(66, cause * 1000 + detail, nowUs);
}

export function received(byte: i32, nowUs: i64): void {
  if (byte >= 48 && byte <= 57) {
    value = value * 10 + (byte - 48);
    return;
  }
  command(byte, nowUs);
  value = 0;
}

function command(byte: i32, nowUs: i64): void {
  if (byte == 120) onUs = <u32>value;
  else if (byte == 113) quiet = value != 0;
  else if (byte == 118) {
    flooding = value != 0;
    flood();
  } else if (byte == 122) {
    dancing = value != 0;
    if (dancing) dance(nowUs);
  } else if (byte == 97) afterLight = <i32>value;
  else if (byte == 111) lampOff();
  else if (byte == 119) wakeAtUs(nowUs + value);
  else if (byte == 112) {
    for (let at = 0; at < PAGE_BYTES; at++) store<u8>(page + at, <u8>(at + <i32>(value >> 8)));
    flashProgram(<u32>value, page, PAGE_BYTES);
  } else if (byte == 101) flashErase(<u32>value);
  else if (byte == 103) lightFromFlash = value != 0;
  else if (byte == 71) {
    flashRead(<u32>value, out, 4);
    say(71, load<u32>(out), nowUs);
  } else if (byte == 73) {
    boardId(out);
    say(73, load<u32>(out), nowUs);
  } else if (byte == 102) say(70, linkFaults(<i32>value), nowUs);
  else if (byte == 115) safelight(value != 0);
  else if (byte == 116) tone(<i32>value, 50);
  else if (byte == 105) displayLight(<i32>value);
  else if (byte == 109) misbehave(<i32>value);
  else if (byte == 87) {
    for (let at = 0; at < COLUMNS; at++) store<u8>(out + at, <u8>(48 + <i32>(value % 10)));
    showLine(<i32>(value / 10), out, COLUMNS);
  } else if (byte != 10) say(63, byte, nowUs);
}

export function writable(nowUs: i64): void {
  flood();
}

/** Light on the way down, and whatever was asked for to go wrong then. */
export function pedalEdge(down: bool, nowUs: i64): void {
  say(112, down, nowUs);
  if (!down || onUs == 0) return;
  exposeUs(onUs);
  if (afterLight != 0) misbehave(afterLight);
}

export function knobEdge(down: bool, nowUs: i64): void {
  say(107, down, nowUs);
  if (down) lampOff();
}

export function knobTurned(detents: i32, nowUs: i64): void {
  say(116, detents, nowUs);
}

export function lampEnded(onUs: u32, nowUs: i64): void {
  say(108, onUs, nowUs);
}

export function deadline(nowUs: i64): void {
  if (dancing) dance(nowUs);
  else say(100, 0, nowUs);
}

export function flashDone(ok: bool, nowUs: i64): void {
  say(102, ok, nowUs);
  if (lightFromFlash && onUs != 0) exposeUs(onUs);
}
