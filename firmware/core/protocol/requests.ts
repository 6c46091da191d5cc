/** What each request does, or why it is refused. */
import { chooseJob, setStrip, takeClock } from '../evening/evening';
import * as codec from '../generated/codec';
import { ErrorCode, MessageType, PROTOCOL_VERSION, SCHEMA_HASH } from '../generated/constants';
import { storageIsForeign } from '../storage/format-mark';
import { forgetUpTo } from '../storage/ring';
import { DocumentKind, findDocument, isIntact } from '../storage/shelf';
import { StoreCode } from '../storage/store-code';
import { answerWithLine } from './answers';
import { mixBath, setBath, tellBath } from './bath-requests';
import { errorOf, isKeeping, keepRecipe, keepSetting, removeRecipe } from './keeping';
import { setWatching } from './notices';
import { readRecord } from './record-codec';
import { foreignFormatWords, NO_WORDS, writeReaderRefusal, writeRefusal } from './refusals';
import { writeCountersLine, writeSettingLine, writeStatusLine, writeWelcomeLine } from './reports';
import { Stream, startStream } from './streams';
import { ascii } from './texts';
import * as upload from './upload';

/** What the other side was found to speak. */
enum Speech {
  Unknown,
  Same,
  Other,
}

const NO_TICKET: i32 = 0;
const SHEET_UNDER_WAY = ascii('a sheet is being given or read: finish it, or hold to go back');
/** The evening's answer for 'done'. */
const FINE: i32 = -1;

let speech: Speech = Speech.Unknown;

/** Carries out a request whose type and id have been read; `type` is -1 for one that is not known. */
export function carryOut(type: i32, id: i32, crc: u32, nowUs: i64): void {
  if (type < 0) {
    refuse(id, crc, ErrorCode.UnknownType, NO_WORDS);
    return;
  }
  if (!mayAsk(type)) {
    const why =
      speech == Speech.Other
        ? ascii('the versions differ: only the log may be read')
        : ascii('say hello first');
    refuse(id, crc, ErrorCode.NotAllowed, why);
    return;
  }
  if (storageIsForeign() && !goesWithoutStorage(type)) {
    refuse(id, crc, ErrorCode.NotAllowed, foreignFormatWords());
    return;
  }
  if (!readFields(type)) {
    writeReaderRefusal(id);
    answerWithLine(id, crc);
    return;
  }
  dispatch(type, id, crc, nowUs);
}

/** Frozen requests mean the same to every version; all others need the same schema on both sides. */
function mayAsk(type: i32): bool {
  return (
    speech == Speech.Same ||
    type == MessageType.Hello ||
    type == MessageType.Collect ||
    type == MessageType.Forget
  );
}

/** What tells how things stand, and neither reads nor writes the flash. */
function goesWithoutStorage(type: i32): bool {
  return (
    type == MessageType.Hello ||
    type == MessageType.Ping ||
    type == MessageType.Diagnose ||
    type == MessageType.GetSetting ||
    type == MessageType.Watch
  );
}

/** Reads the fields into the codec's own place for that request; true for types that are no requests, too. */
function readFields(type: i32): bool {
  const place = codec.requestPlace(type);
  return place == 0 || readRecord(type, place);
}

function dispatch(type: i32, id: i32, crc: u32, nowUs: i64): void {
  switch (type) {
    case MessageType.Hello:
      speech =
        codec.hello.protocol == PROTOCOL_VERSION && codec.hello.schemaHash == SCHEMA_HASH
          ? Speech.Same
          : Speech.Other;
      setWatching(false);
      writeWelcomeLine(id, nowUs);
      answerWithLine(id, crc);
      return;
    case MessageType.Ping:
      writeStatusLine(id, nowUs);
      answerWithLine(id, crc);
      return;
    case MessageType.Diagnose:
      writeCountersLine(id);
      answerWithLine(id, crc);
      return;
    case MessageType.SetClock:
      answerEvening(takeClock(codec.setClock.epochMs, nowUs), id, crc);
      return;
    case MessageType.GetSetting:
      writeSettingLine(codec.getSetting.name, id);
      answerWithLine(id, crc);
      return;
    case MessageType.SetSetting:
      keepSetting(codec.setSetting.name, codec.setSetting.value, id, crc);
      return;
    case MessageType.Watch:
      setWatching(codec.watch.on);
      accept(id, crc);
      return;
    case MessageType.Choose:
      answerEvening(chooseJob(codec.choose.job, codec.choose.name, nowUs), id, crc);
      return;
    case MessageType.StripSet:
      answerEvening(setStrip(codec.stripSet, nowUs), id, crc);
      return;
    case MessageType.Collect:
      stream(Stream.Collect, codec.collect.fromSeq, codec.collect.count, id, crc);
      return;
    case MessageType.Forget:
      answerCode(forgetUpTo(codec.forget.uptoSeq, NO_TICKET), id, crc);
      return;
    case MessageType.BathSet:
      setBath(id, crc);
      return;
    case MessageType.BathGet:
      tellBath(id, crc);
      return;
    case MessageType.BathRenew:
      mixBath(id, crc);
      return;
    default:
      dispatchRecipe(type, id, crc);
  }
}

function dispatchRecipe(type: i32, id: i32, crc: u32): void {
  switch (type) {
    case MessageType.RecipeBegin:
      if (isKeeping()) refuse(id, crc, ErrorCode.Busy, ascii('the flash is still being written'));
      else answerPart(upload.takeBegin(crc), id, crc);
      return;
    case MessageType.RecipeText:
      answerPart(upload.takeText(crc), id, crc);
      return;
    case MessageType.RecipeHead:
      answerPart(upload.takeHead(crc), id, crc);
      return;
    case MessageType.RecipePass:
      answerPart(upload.takePass(crc), id, crc);
      return;
    case MessageType.RecipeDodge:
      answerPart(upload.takeDodge(crc), id, crc);
      return;
    case MessageType.RecipeCommit:
      keepRecipe(codec.recipeCommit.whole, id, crc);
      return;
    case MessageType.RecipeList:
      stream(Stream.RecipeList, u32(-1), 0, id, crc);
      return;
    case MessageType.RecipeGet:
      getRecipe(id, crc);
      return;
    case MessageType.RecipeRemove:
      removeRecipe(codec.recipeRemove.name, id, crc);
      return;
    default:
      refuse(id, crc, ErrorCode.NotAllowed, ascii('that is for the board to say'));
  }
}

function getRecipe(id: i32, crc: u32): void {
  const document = findDocument(DocumentKind.Recipe, codec.recipeGet.name);
  if (document < 0) refuse(id, crc, ErrorCode.NotFound, NO_WORDS);
  else if (!isIntact(document)) refuse(id, crc, ErrorCode.Damaged, NO_WORDS);
  else stream(Stream.RecipeGet, document, 0, id, crc);
}

function stream(kind: Stream, at: u32, left: u32, id: i32, crc: u32): void {
  if (!startStream(kind, id, at, left))
    refuse(id, crc, ErrorCode.Busy, ascii('too many lists are asked for at once'));
}

function answerPart(part: upload.Part, id: i32, crc: u32): void {
  if (part == upload.Part.Taken) accept(id, crc);
  else refuse(id, crc, ErrorCode.NotAllowed, upload.partWords(part));
}

function answerCode(code: StoreCode, id: i32, crc: u32): void {
  if (code >= 0) accept(id, crc);
  else refuse(id, crc, errorOf(code), NO_WORDS);
}

function answerEvening(code: i32, id: i32, crc: u32): void {
  if (code == FINE) accept(id, crc);
  else refuse(id, crc, code, code == ErrorCode.NotAllowed ? SHEET_UNDER_WAY : NO_WORDS);
}

function accept(id: i32, crc: u32): void {
  codec.writeOk(codec.ok, id);
  answerWithLine(id, crc);
}

function refuse(id: i32, crc: u32, code: ErrorCode, why: usize): void {
  writeRefusal(id, code, why);
  answerWithLine(id, crc);
}
