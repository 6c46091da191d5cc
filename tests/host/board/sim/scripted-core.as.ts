/**
 * A core that does one plain thing for each event and writes every event it gets, with its time, to the serial
 * line: enough to see whether a board keeps its promises.
 */
import {
  boardId,
  exposeUs,
  flashErase,
  flashProgram,
  flashRead,
  lampOff,
  linkFaults,
  sendBytes,
  showLine,
  tone,
  wakeAtUs,
} from '../../../../firmware/core/board';

const buffer = memory.data(256);
let length = 0;

function put(byte: i32): void {
  store<u8>(buffer + length, byte);
  length++;
}

function putNumber(value: i64): void {
  if (value >= 10) putNumber(value / 10);
  put(48 + <i32>(value % 10));
}

function say(letter: i32, value: i64, nowUs: i64): void {
  length = 0;
  put(letter);
  put(32);
  putNumber(value);
  put(32);
  putNumber(nowUs);
  put(10);
  sendBytes(buffer, length);
}

export function boot(nowUs: i64, cause: i32, detail: i32): void {
  lampOff();
  say(66, cause * 100 + detail, nowUs);
  wakeAtUs(1_000_000);
}

export function received(byte: i32, nowUs: i64): void {
  if (byte == 76) exposeUs(1000);
  else if (byte == 84) unreachable();
  else if (byte == 79) lampOff();
  else if (byte == 80) {
    store<u8>(buffer, 0x5a);
    flashProgram(4096, buffer, 1);
  } else if (byte == 69) flashErase(4096);
  else if (byte == 82) {
    flashRead(4096, buffer + 100, 1);
    say(82, load<u8>(buffer + 100), nowUs);
  } else if (byte == 73) {
    boardId(buffer + 100);
    say(73, load<u8>(buffer + 100), nowUs);
  } else if (byte == 70) say(70, linkFaults(0), nowUs);
  else if (byte == 83) {
    for (let at = 0; at < 200; at++) store<u8>(buffer + at, 46);
    let refusals = 0;
    for (let line = 0; line < 10; line++) if (!sendBytes(buffer, 200)) refusals++;
    showLine(0, buffer, refusals);
  } else if (byte == 87) {
    wakeAtUs(nowUs + 5000);
    wakeAtUs(i64.MAX_VALUE);
  } else say(114, byte, nowUs);
}

export function writable(nowUs: i64): void {
  say(119, 0, nowUs);
}

export function pedalEdge(down: bool, nowUs: i64): void {
  say(112, down, nowUs);
  if (down) exposeUs(1_234_567);
  tone(down ? 880 : 0, 40);
}

export function knobEdge(down: bool, nowUs: i64): void {
  say(107, down, nowUs);
}

export function knobTurned(detents: i32, nowUs: i64): void {
  say(116, detents, nowUs);
}

export function lampEnded(onUs: u32, nowUs: i64): void {
  say(108, onUs, nowUs);
}

export function deadline(nowUs: i64): void {
  say(100, 0, nowUs);
}

export function flashDone(ok: bool, nowUs: i64): void {
  say(102, ok, nowUs);
}
