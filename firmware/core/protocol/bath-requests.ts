/** The baths as the laptop sets them and asks for them. */

import { bathAt, bathCount, bathRow, bathRowLength, bathsName } from '../baths/baths';
import { incomingBaths, keepCounts, mixIncoming, Taken, takeBath } from '../baths/incoming-baths';
import { BATH_BYTES, bath, bathGet, bathRenew, bathSet, ok, writeBath, writeOk } from '../generated/codec';
import { ErrorCode, MessageType } from '../generated/constants';
import { DocumentKind } from '../storage/shelf';
import { answerWithLine } from './answers';
import { keepDocument, refusedForNow } from './keeping';
import { writeRefusal } from './refusals';
import { ascii } from './texts';

export function setBath(id: i32, crc: u32): void {
  if (refusedForNow(id, crc)) return;
  const taken = takeBath(bathSet);
  switch (taken) {
    case Taken.Part:
      writeOk(ok, id);
      break;
    case Taken.Whole:
      keepCounts();
      keepRow(MessageType.BathSet, id, crc);
      return;
    case Taken.NoLabel:
      writeRefusal(id, ErrorCode.NotAllowed, ascii('a bath needs a label'));
      break;
    case Taken.SameLabel:
      writeRefusal(id, ErrorCode.NotAllowed, ascii('two baths have that label'));
      break;
    default:
      writeRefusal(id, ErrorCode.NotAllowed, ascii('baths are sent in order, from the first'));
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
