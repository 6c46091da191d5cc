/** What each request does, or why it is refused. */
import { chooseJob, choosingFault, takeClock } from '../evening/evening';
import { allIsStored, askToMakeWay, MAY_ASK, makingWayNow, whyNotMakeWay } from '../evening/making-way';
import * as codec from '../generated/codec';
import { ErrorCode, MakingWay, MessageType, PROTOCOL_VERSION, SCHEMA_HASH } from '../generated/constants';
import { storageIsForeign } from '../storage/format-mark';
import { forgetUpTo } from '../storage/ring';
import { DocumentKind, findDocument, isIntact } from '../storage/shelf';
import { answerWithLine } from './answers';
import { clearKeptPoints, mixBath, setBath, setPoint, writeBathLine, writePointLine } from './bath-requests';
import { setBoardName, writeBoardNameLine } from './board-name';
import { errorOf, isKeeping, keepRecipe, keepSetting, keepStrip, removeRecipe } from './keeping';
import { setWatching } from './notices';
import { readRecord } from './record-codec';
import { foreignFormatWords, NO_WORDS, NOT_AT_REST, writeReaderRefusal, writeRefusal } from './refusals';
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
/** The evening's answer for 'done'. */
const FINE: i32 = -1;

let speech: Speech = Speech.Unknown;

/** Carries out a request whose type and id have been read; `type` is -1 for one that is not known. */
export function carryOut(type: i32, id: i32, crc: u32, nowUs: i64): void {
  if (writeAnswer(type, id, crc, nowUs)) answerWithLine(id, crc);
}

/** Does what is asked; true when a line was written that is the answer, false when the answer comes another way. */
function writeAnswer(type: i32, id: i32, crc: u32, nowUs: i64): bool {
  if (type < 0) return refuse(id, ErrorCode.UnknownType, NO_WORDS);
  if (!mayAsk(type)) {
    const why =
      speech == Speech.Other
        ? ascii('the versions differ: only the log may be read')
        : ascii('say hello first');
    return refuse(id, ErrorCode.NotAllowed, why);
  }
  if (storageIsForeign() && !goesWithoutStorage(type))
    return refuse(id, ErrorCode.NotAllowed, foreignFormatWords());
  if (readFields(type)) return dispatch(type, id, crc, nowUs);
  writeReaderRefusal(id);
  return true;
}

/** Frozen requests mean the same to every version; all others need the same schema on both sides. */
function mayAsk(type: i32): bool {
  return (
    speech == Speech.Same ||
    type == MessageType.Hello ||
    type == MessageType.Collect ||
    type == MessageType.Forget ||
    type == MessageType.MakeWay
  );
}

/** What tells how things stand, and neither reads nor writes the flash. */
function goesWithoutStorage(type: i32): bool {
  return (
    type == MessageType.Hello ||
    type == MessageType.Ping ||
    type == MessageType.Diagnose ||
    type == MessageType.MakeWay ||
    type == MessageType.GetSetting ||
    type == MessageType.Watch
  );
}

/** Reads the fields into the codec's own place for that request; true for types that are no requests, too. */
function readFields(type: i32): bool {
  const place = codec.requestPlace(type);
  codec.clearRequests();
  return place == 0 || readRecord(type, place);
}

function dispatch(type: i32, id: i32, crc: u32, nowUs: i64): bool {
  switch (type) {
    case MessageType.Hello:
      speech =
        codec.hello.protocol == PROTOCOL_VERSION && codec.hello.schemaHash == SCHEMA_HASH
          ? Speech.Same
          : Speech.Other;
      setWatching(false);
      writeWelcomeLine(id, nowUs);
      return true;
    case MessageType.Ping:
      writeStatusLine(id, nowUs);
      return true;
    case MessageType.Diagnose:
      writeCountersLine(id);
      return true;
    case MessageType.SetClock:
      return answerEvening(takeClock(codec.setClock.epochMs, nowUs), id);
    case MessageType.GetSetting:
      writeSettingLine(codec.getSetting.name, id);
      return true;
    case MessageType.SetSetting:
      keepSetting(codec.setSetting.name, codec.setSetting.value, id, crc);
      return false;
    case MessageType.Watch:
      setWatching(codec.watch.on);
      return answerEvening(FINE, id);
    case MessageType.Choose:
      return answerEvening(chooseJob(codec.choose.job, codec.choose.name, nowUs), id);
    case MessageType.StripSet:
      return setStrip(id, crc, nowUs);
    case MessageType.Collect:
      return stream(Stream.Collect, codec.collect.fromSeq, codec.collect.count, id);
    case MessageType.Forget: {
      const code = forgetUpTo(codec.forget.uptoSeq, NO_TICKET);
      return answerEvening(code < 0 ? errorOf(code) : FINE, id);
    }
    case MessageType.MakeWay:
      return answerWay(codec.makeWay.ask, id, nowUs);
    case MessageType.BathSet:
      setBath(id, crc);
      return false;
    case MessageType.BathGet:
      writeBathLine(id);
      return true;
    case MessageType.BathRenew:
      mixBath(id, crc);
      return false;
    case MessageType.PointSet:
      setPoint(id, crc);
      return false;
    case MessageType.PointGet:
      writePointLine(id);
      return true;
    case MessageType.PointsClear:
      clearKeptPoints(id, crc);
      return false;
    case MessageType.NameSet:
      setBoardName(id, crc);
      return false;
    case MessageType.NameGet:
      writeBoardNameLine(id);
      return true;
    default:
      return dispatchRecipe(type, id, crc);
  }
}

/** False when the answer comes later, or has been given. */
function setStrip(id: i32, crc: u32, nowUs: i64): bool {
  const fault = choosingFault();
  if (fault != FINE) return answerEvening(fault, id);
  keepStrip(codec.stripSet, id, crc, nowUs);
  return false;
}

function dispatchRecipe(type: i32, id: i32, crc: u32): bool {
  switch (type) {
    case MessageType.RecipeBegin:
      if (isKeeping()) return refuse(id, ErrorCode.Busy, ascii('the flash is still being written'));
      return answerPart(upload.takeBegin(crc), id);
    case MessageType.RecipeText:
      return answerPart(upload.takeText(crc), id);
    case MessageType.RecipeHead:
      return answerPart(upload.takeHead(crc), id);
    case MessageType.RecipePass:
      return answerPart(upload.takePass(crc), id);
    case MessageType.RecipeDodge:
      return answerPart(upload.takeDodge(crc), id);
    case MessageType.RecipeFine:
      return answerPart(upload.takeFine(crc), id);
    case MessageType.RecipeCommit:
      keepRecipe(codec.recipeCommit.whole, id, crc);
      return false;
    case MessageType.RecipeList:
      return stream(Stream.RecipeList, u32(-1), 0, id);
    case MessageType.RecipeGet:
      return getRecipe(id);
    case MessageType.RecipeRemove:
      removeRecipe(codec.recipeRemove.name, id, crc);
      return false;
    default:
      return refuse(id, ErrorCode.NotAllowed, ascii('that is for the board to say'));
  }
}

function getRecipe(id: i32): bool {
  const document = findDocument(DocumentKind.Recipe, codec.recipeGet.name);
  if (document < 0) return refuse(id, ErrorCode.NotFound, NO_WORDS);
  if (!isIntact(document)) return refuse(id, ErrorCode.Damaged, NO_WORDS);
  return stream(Stream.RecipeGet, document, 0, id);
}

/** Asked again while the hand is being asked, it only tells how that stands. */
function answerWay(isWanted: bool, id: i32, nowUs: i64): bool {
  if (isWanted && makingWayNow() == MakingWay.NotAsked) {
    const why = whyNotMakeWay();
    if (why != MAY_ASK) return refuse(id, ErrorCode.NotAllowed, why);
    if (!allIsStored()) return refuse(id, ErrorCode.Busy, ascii('the flash is still being written'));
    askToMakeWay(nowUs);
  }
  codec.way.stands = u8(makingWayNow());
  codec.writeWay(codec.way, id);
  return true;
}

/** False when the lines are on their way. */
function stream(kind: Stream, at: u32, left: u32, id: i32): bool {
  return (
    !startStream(kind, id, at, left) &&
    refuse(id, ErrorCode.Busy, ascii('too many lists are asked for at once'))
  );
}

function answerPart(part: upload.Part, id: i32): bool {
  return part == upload.Part.Taken
    ? answerEvening(FINE, id)
    : refuse(id, ErrorCode.NotAllowed, upload.partWords(part));
}

function answerEvening(code: i32, id: i32): bool {
  if (code != FINE) return refuse(id, code, code == ErrorCode.NotAllowed ? NOT_AT_REST : NO_WORDS);
  codec.writeOk(codec.ok, id);
  return true;
}

function refuse(id: i32, code: ErrorCode, why: usize): bool {
  writeRefusal(id, code, why);
  return true;
}
