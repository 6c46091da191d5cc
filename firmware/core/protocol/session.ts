/**
 * The conversation with the laptop: bytes in, one answer to each request out. Nothing here can turn the lamp on;
 * what a request may change is asked of the evening, the settings and the shelf, and refused by them in words.
 */
import { sendBytes } from '../board';
import { ErrorCode, MessageType } from '../generated/constants';
import { keeping } from '../state/state';
import { answeredBefore, forgetAnswers, sendUnsent } from './answers';
import { Framed, lineIn, lineInCrc, lineInElements, takeByte } from './framer';
import { forgetAwaited, storageFinished } from './keeping';
import { countBadCrc, countBadLine } from './line-faults';
import { readId, startReading } from './line-reader';
import { lineOut, lineOutLength } from './line-writer';
import { readMessageType } from './record-codec';
import { NO_WORDS, writeRefusal } from './refusals';
import { carryOut } from './requests';
import { forgetStreams, isStreaming, pumpStreams } from './streams';
import { forgetUpload } from './upload';

/** One byte from the line; most only fill the line's place. True when it ended a line. */
export function receiveByte(byte: i32, nowUs: i64): bool {
  const framed = takeByte(byte);
  if (framed == Framed.Unfinished) return false;
  if (framed == Framed.Line) takeLine(nowUs);
  else refuseBytes(framed);
  pumpStreams();
  return true;
}

function refuseBytes(framed: Framed): void {
  if (framed == Framed.BadCrc) countBadCrc();
  else countBadLine();
  refuseLine(framed == Framed.BadCrc ? ErrorCode.BadCrc : ErrorCode.BadLine);
}

/** The line has room again: first what is owed, then what streams. */
export function lineWritable(): void {
  if (sendUnsent()) pumpStreams();
}

/** What a storage request came to; `ticket` is one that this side gave out. */
export function sessionStored(ticket: i32, code: i32, nowUs: i64): void {
  storageFinished(ticket, code, nowUs);
  pumpStreams();
}

/**
 * A line whose id cannot be trusted is answered under id 0, and only if there is room just now: noise must not
 * push the answers out that requests may still ask for again.
 */
function refuseLine(code: ErrorCode): void {
  writeRefusal(0, code, NO_WORDS);
  sendBytes(lineOut, lineOutLength);
}

function takeLine(nowUs: i64): void {
  startReading(lineIn + 1, lineInElements);
  const type = readMessageType();
  const id = type >= 0 ? readId() : idOfUnknown();
  if (id <= 0) {
    countBadLine();
    refuseLine(ErrorCode.BadLine);
  } else if (type == MessageType.Hello) {
    startOver();
    carryOut(type, id, lineInCrc, nowUs);
  } else if (!isStreaming(id) && !answeredBefore(id, lineInCrc)) {
    carryOut(type, id, lineInCrc, nowUs);
  }
}

function startOver(): void {
  forgetAnswers();
  forgetStreams();
  forgetUpload();
  keeping.bathsTaken = 0;
  keeping.pointsTaken = 0;
  forgetAwaited();
}

/** The id behind a type that this firmware does not know, so that its sender gets an answer. */
function idOfUnknown(): i32 {
  const end = lineIn + 1 + lineInElements;
  for (let at = lineIn + 2; at < end; at++) {
    if (load<u8>(at) != 0x22) continue;
    startReading(
      at + 1,
      i32(end - at - 1), // up to the comma before the checksum
    );
    return readId();
  }
  return -1;
}
