/**
 * What the board says unasked, to a host that watches. A notice never waits and never displaces an answer: when
 * the line has no room it is dropped and counted.
 */
import { sendBytes } from '../board';
import {
  checked,
  lamp,
  moved,
  shown,
  writeChecked,
  writeLamp,
  writeMoved,
  writeShown,
} from '../generated/codec';
import { CheckupStep, RunState } from '../generated/constants';
import { lineOut, lineOutLength } from './line-writer';
import { copyText } from './texts';

const LAST_ASCII: u8 = 0x7e;

export let watching: bool = false;
export let noticesDropped: u32 = 0;

export function setWatching(on: bool): void {
  watching = on;
}

/** `label` is a text. */
export function noticeMoved(
  state: RunState,
  pass: i32,
  piece: i32,
  label: usize,
  remainingMs: i32,
  nowUs: i64,
): void {
  if (!watching) return;
  moved.uptimeMs = u32(nowUs / 1000);
  moved.state = u8(state);
  moved.pass = u8(pass);
  moved.piece = u8(piece);
  moved.remainingMs = remainingMs;
  copyText(moved.label, label);
  writeMoved(moved, 0);
  sendNotice();
}

/** `onUs` is how long the lamp was on, 0 when it has just come on. */
export function noticeLamp(on: bool, onUs: u32, nowUs: i64): void {
  if (!watching) return;
  lamp.uptimeMs = u32(nowUs / 1000);
  lamp.on = on;
  lamp.onUs = onUs;
  writeLamp(lamp, 0);
  sendNotice();
}

export function noticeChecked(step: CheckupStep, isFine: bool, first: u32, second: u32): void {
  if (!watching) return;
  checked.step = u8(step);
  checked.isFine = isFine;
  checked.first = first;
  checked.second = second;
  writeChecked(checked, 0);
  sendNotice();
}

/** `length` ASCII characters at `ascii` on a row of the display; all dots are told as '#'. */
export function noticeShown(row: i32, ascii: usize, length: i32): void {
  if (!watching) return;
  shown.row = u8(row);
  store<u8>(shown.text, u8(length));
  memory.copy(shown.text + 1, ascii, length);
  if (load<u8>(ascii) > LAST_ASCII) memory.fill(shown.text + 1, 0x23, length);
  writeShown(shown, 0);
  sendNotice();
}

function sendNotice(): void {
  if (!sendBytes(lineOut, lineOutLength)) noticesDropped++;
}
