/** What the printer calls this board. It is read from the shelf whenever somebody asks, so that nothing else knows of it. */
import { BOARD_NAME_BYTES, boardName, nameSet, ok, writeBoardName, writeOk } from '../generated/codec';
import { MessageType } from '../generated/constants';
import { DocumentKind, described, findDocument, isIntact, readDocument } from '../storage/shelf';
import { answerWithLine } from './answers';
import { keepDocument, refusedForNow, removeDocument } from './keeping';
import { ascii, isEmptyText } from './texts';

/** The next request may be read while the flash is being written. */
const outgoing: usize = memory.data(BOARD_NAME_BYTES, 8);

export function setBoardName(id: i32, crc: u32): void {
  if (refusedForNow(id, crc)) return;
  const type = MessageType.NameSet;
  if (!isEmptyText(nameSet.name)) {
    memory.copy(outgoing, changetype<usize>(nameSet), BOARD_NAME_BYTES);
    keepDocument(DocumentKind.BoardName, documentName(), outgoing, BOARD_NAME_BYTES, type, id, crc);
  } else if (findDocument(DocumentKind.BoardName, documentName()) >= 0) {
    removeDocument(DocumentKind.BoardName, documentName(), type, id, crc);
  } else {
    writeOk(ok, id);
    answerWithLine(id, crc);
  }
}

/** A damaged document counts as none. */
export function writeBoardNameLine(id: i32): void {
  const place = changetype<usize>(boardName);
  memory.fill(place, 0, BOARD_NAME_BYTES);
  const document = findDocument(DocumentKind.BoardName, documentName());
  if (isIntact(document)) readDocument(document, 0, place, min(i32(described.bodyBytes), BOARD_NAME_BYTES));
  writeBoardName(boardName, id);
}

/** The name (a text) under which the shelf keeps it. */
function documentName(): usize {
  return ascii('name');
}
