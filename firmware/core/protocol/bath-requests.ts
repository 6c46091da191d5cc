/** The baths as the laptop sets them and asks for them. */

import { bathAt, bathCount, bathRow, bathRowLength, bathsName } from '../baths/baths';
import { incomingBaths, keepCounts, mixIncoming, Taken, takeBath } from '../baths/incoming-baths';
import { incomingPoints, takePoint } from '../baths/incoming-points';
import { pointAt, pointCount, pointRow, pointRowLength, pointsName } from '../baths/points';
import {
  BATH_BYTES,
  BATH_POINT_BYTES,
  bath,
  bathGet,
  bathPoint,
  bathRenew,
  bathSet,
  ok,
  pointGet,
  pointSet,
  writeBath,
  writeBathPoint,
  writeOk,
} from '../generated/codec';
import { ErrorCode, MessageType } from '../generated/constants';
import { DocumentKind } from '../storage/shelf';
import { answerWithLine } from './answers';
import { keepDocument, refusedForNow, removeDocument } from './keeping';
import { writeRefusal } from './refusals';
import { ascii } from './texts';

export function setBath(id: i32, crc: u32): void {
  if (refusedForNow(id, crc)) return;
  const taken = takeBath(bathSet);
  if (taken == Taken.Whole) {
    keepCounts();
    keepRow(MessageType.BathSet, id, crc);
    return;
  }
  answerTaken(taken, id, crc);
}

/** One of several that only count together. */
function answerTaken(taken: Taken, id: i32, crc: u32): void {
  switch (taken) {
    case Taken.Part:
      writeOk(ok, id);
      break;
    case Taken.NoLabel:
      writeRefusal(id, ErrorCode.NotAllowed, ascii('a bath needs a label'));
      break;
    case Taken.SameLabel:
      writeRefusal(id, ErrorCode.NotAllowed, ascii('two baths have that label'));
      break;
    default:
      writeRefusal(id, ErrorCode.NotAllowed, ascii('they are sent in order, from the first'));
  }
  answerWithLine(id, crc);
}

export function writeBathLine(id: i32): void {
  if (!isThere(bathGet.bath)) {
    writeRefusal(id, ErrorCode.NotFound, ascii(''));
    return;
  }
  memory.copy(changetype<usize>(bath), changetype<usize>(bathAt(bathRow, bathGet.bath - 1)), BATH_BYTES);
  writeBath(bath, id);
}

export function setPoint(id: i32, crc: u32): void {
  if (refusedForNow(id, crc)) return;
  const taken = takePoint(pointSet);
  if (taken != Taken.Whole) {
    answerTaken(taken, id, crc);
    return;
  }
  const length = pointRowLength(incomingPoints);
  keepDocument(DocumentKind.Points, pointsName, incomingPoints, length, MessageType.PointSet, id, crc);
}

export function clearKeptPoints(id: i32, crc: u32): void {
  if (refusedForNow(id, crc)) return;
  if (pointCount() == 0) {
    writeOk(ok, id);
    answerWithLine(id, crc);
    return;
  }
  removeDocument(DocumentKind.Points, pointsName, MessageType.PointsClear, id, crc);
}

export function writePointLine(id: i32): void {
  if (i32(pointGet.point) > pointCount()) {
    writeRefusal(id, ErrorCode.NotFound, ascii(''));
    return;
  }
  const kept = pointAt(pointRow, pointGet.point - 1);
  memory.copy(changetype<usize>(bathPoint), changetype<usize>(kept), BATH_POINT_BYTES);
  writeBathPoint(bathPoint, id);
}

/** The tally is of what is in the tray, so that it is kept like the row itself. */
export function mixBath(id: i32, crc: u32): void {
  if (refusedForNow(id, crc)) return;
  if (isThere(bathRenew.bath)) {
    mixIncoming(bathRenew.bath - 1);
    keepRow(MessageType.BathRenew, id, crc);
    return;
  }
  writeRefusal(id, ErrorCode.NotFound, ascii(''));
  answerWithLine(id, crc);
}

function isThere(number: i32): bool {
  return number <= bathCount();
}

function keepRow(type: MessageType, id: i32, crc: u32): void {
  keepDocument(DocumentKind.Baths, bathsName, incomingBaths, bathRowLength(incomingBaths), type, id, crc);
}
