/**
 * Every answer is kept until newer ones take its place, for two reasons: a repeated request is answered from
 * here and not carried out twice, and an answer that found the line full is sent when there is room.
 */
import { sendBytes } from '../board';
import { LINE_BYTES } from '../generated/constants';
import { lineOut, lineOutLength } from './line-writer';

const KEPT: i32 = 4;

/** An answer, its line right behind it. */
@unmanaged
class Answer {
  requestCrc: u32;
  /** 0 when this place is free; an id that a host may use otherwise. */
  id: u16;
  length: u8;
  /** The request is being carried out, and there is no answer yet. */
  awaited: bool;
  unsent: bool;
}

const ANSWER_BYTES: i32 = 16;
const STRIDE: i32 = ANSWER_BYTES + LINE_BYTES;
const kept: usize = memory.data(KEPT * STRIDE, 8);
let next: i32 = 0;

export let repeats: u32 = 0;

function answerAt(place: i32): Answer {
  return changetype<Answer>(kept + place * STRIDE);
}

function lineOf(answer: Answer): usize {
  return changetype<usize>(answer) + ANSWER_BYTES;
}

/** A new conversation: ids start afresh, so nothing remembered may answer them. */
export function forgetAnswers(): void {
  memory.fill(kept, 0, KEPT * STRIDE);
  next = 0;
}

/** True when this very request came before; its answer, if there is one already, is sent again. */
export function answeredBefore(id: i32, requestCrc: u32): bool {
  for (let place = 0; place < KEPT; place++) {
    const answer = answerAt(place);
    if (id == 0 || i32(answer.id) != id || answer.requestCrc != requestCrc) continue;
    repeats++;
    if (!answer.awaited) {
      answer.unsent = true;
      sendUnsent();
    }
    return true;
  }
  return false;
}

/** Keeps the finished line as the answer to a request, and sends it as soon as the line has room. */
export function answerWithLine(id: i32, requestCrc: u32): void {
  const answer = placeFor(id, requestCrc);
  memory.copy(lineOf(answer), lineOut, lineOutLength);
  answer.length = u8(lineOutLength);
  answer.awaited = false;
  answer.unsent = true;
  sendUnsent();
}

/** Notes a request whose answer comes later, by `answerWithLine` with the same id and checksum. */
export function awaitAnswer(id: i32, requestCrc: u32): void {
  placeFor(id, requestCrc).awaited = true;
}

function placeFor(id: i32, requestCrc: u32): Answer {
  for (let place = 0; place < KEPT; place++) {
    const answer = answerAt(place);
    if (answer.awaited && i32(answer.id) == id && answer.requestCrc == requestCrc) return answer;
  }
  if (answerAt(next).awaited) next = (next + 1) % KEPT; // one request at a time is awaited
  const answer = answerAt(next);
  next = (next + 1) % KEPT;
  answer.id = u16(id);
  answer.requestCrc = requestCrc;
  answer.awaited = false;
  answer.unsent = false;
  return answer;
}

/** Sends what waits, oldest first; false when the line has no room for all of it. */
export function sendUnsent(): bool {
  for (let step = 0; step < KEPT; step++) {
    const answer = answerAt((next + step) % KEPT);
    if (!answer.unsent) continue;
    if (!sendBytes(lineOf(answer), answer.length)) return false;
    answer.unsent = false;
  }
  return true;
}
