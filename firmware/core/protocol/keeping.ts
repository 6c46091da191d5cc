/** Requests that change what the shelf keeps: one at a time, and answered when the flash has it. */
import { useIncomingPoints } from '../baths/incoming-points';
import { clearPoints } from '../baths/points';
import {
  onBathMixed,
  onBathsKept,
  onRecipeKept,
  onSettingsChanged,
  runStateNow,
  setStrip,
} from '../evening/evening';
import { endKeepingInBackground } from '../evening/unkept';
import { ok, StripSet, writeOk } from '../generated/codec';
import { ErrorCode, MessageType, RunState, settingWords } from '../generated/constants';
import { recipeBeginAt, recipeLength } from '../recipe/recipe';
import {
  changeSetting,
  SETTINGS_BYTES,
  settingLeast,
  settingMost,
  settingsBody,
  settingsName,
  settingValue,
} from '../settings/settings';
import { DocumentKind, findDocument } from '../storage/shelf';
import { dropDocument, putDocument } from '../storage/shelf-writer';
import { StoreCode } from '../storage/store-code';
import { answerWithLine, awaitAnswer } from './answers';
import { NO_WORDS, writeFieldRefusal, writeRefusal } from './refusals';
import { writeSettingLine } from './reports';
import { recipesAreStreaming } from './streams';
import { ascii } from './texts';
import { incomingRecipe, Part, partWords, takeCommit } from './upload';

/** The session's requests to the storage are known by tickets from here on, one a message type. */
export const SESSION_TICKETS: i32 = 1000;
const VALUE_FIELD: i32 = 2;

// The one request that waits for the flash; id 0 when there is none.
let awaitedId: i32 = 0;
/** A new conversation has begun since it was asked: nobody is answered. */
let awaitedBefore: bool = false;
let awaitedCrc: u32 = 0;
let awaitedSetting: i32 = 0;
let settingBefore: i32 = 0;
const outgoingSettings: usize = memory.data(SETTINGS_BYTES, 8);

/** While the flash is being written from the upload's own place, nothing may be uploaded over it. */
export function isKeeping(): bool {
  return awaitedId != 0;
}

export function keepRecipe(whole: u32, id: i32, crc: u32): void {
  if (refusedForNow(id, crc)) return;
  const part = takeCommit(whole);
  if (part != Part.Taken) {
    writeRefusal(id, ErrorCode.NotAllowed, partWords(part));
    answerWithLine(id, crc);
    return;
  }
  const name = recipeBeginAt(incomingRecipe).name;
  const length = recipeLength(incomingRecipe);
  keepDocument(DocumentKind.Recipe, name, incomingRecipe, length, MessageType.RecipeCommit, id, crc);
}

/** Puts it on the shelf; the request of that type is answered when it is there. See `putDocument`. */
export function keepDocument(
  kind: DocumentKind,
  name: usize,
  body: usize,
  length: i32,
  type: MessageType,
  id: i32,
  crc: u32,
): void {
  awaitStorage(putDocument(kind, name, body, length, ticketOf(type)), id, crc);
}

export function removeRecipe(name: usize, id: i32, crc: u32): void {
  if (!refusedForNow(id, crc)) removeDocument(DocumentKind.Recipe, name, MessageType.RecipeRemove, id, crc);
}

export function removeDocument(kind: DocumentKind, name: usize, type: MessageType, id: i32, crc: u32): void {
  awaitStorage(dropDocument(findDocument(kind, name), ticketOf(type)), id, crc);
}

export function keepSetting(name: i32, value: i32, id: i32, crc: u32): void {
  if (refusedForNow(id, crc)) return;
  settingBefore = settingValue(name);
  if (!changeSetting(name, value)) {
    const low = settingLeast(name);
    writeFieldRefusal(id, ErrorCode.BadField, settingWords(name), VALUE_FIELD, low, settingMost(name));
    answerWithLine(id, crc);
    return;
  }
  onSettingsChanged();
  awaitedSetting = name;
  // The knob may change another one while the flash is being written.
  memory.copy(outgoingSettings, settingsBody, SETTINGS_BYTES);
  const ticket = ticketOf(MessageType.SetSetting);
  const code = putDocument(DocumentKind.Settings, settingsName, outgoingSettings, SETTINGS_BYTES, ticket);
  if (code < 0) changeSetting(name, settingBefore);
  awaitStorage(code, id, crc);
}

/** It lies on the desk, and is answered when the shelf has that. */
export function keepStrip(from: StripSet, id: i32, crc: u32, nowUs: i64): void {
  if (!refusedForNow(id, crc)) awaitStorage(setStrip(from, ticketOf(MessageType.StripSet), nowUs), id, crc);
}

/** A running print is never changed, and the flash is not written while the lamp may come on. */
export function refusedForNow(id: i32, crc: u32): bool {
  const state = runStateNow();
  let why = NO_WORDS;
  if (isKeeping()) why = ascii('the flash is still being written');
  else if (recipesAreStreaming()) why = ascii('recipes are being read out');
  else if (state != RunState.Rest && state != RunState.LensCheck && state != RunState.Done)
    why = ascii('a print is under way: ask again when it is over');
  else return false;
  writeRefusal(id, ErrorCode.Busy, why);
  answerWithLine(id, crc);
  return true;
}

function ticketOf(type: MessageType): i32 {
  return SESSION_TICKETS + i32(type);
}

function awaitStorage(code: StoreCode, id: i32, crc: u32): void {
  if (code == StoreCode.Waiting) {
    awaitedId = id;
    awaitedBefore = false;
    awaitedCrc = crc;
    awaitAnswer(id, crc);
    return;
  }
  answerStored(code, -1, id, crc);
}

/** The storage is through with the request that waited. */
export function storageFinished(ticket: i32, code: i32, nowUs: i64): void {
  const type = ticket - SESSION_TICKETS;
  const id = awaitedId;
  awaitedId = 0;
  if (type == MessageType.SetSetting && code < 0) changeSetting(awaitedSetting, settingBefore);
  if (type == MessageType.RecipeCommit && code == StoreCode.Done)
    onRecipeKept(recipeBeginAt(incomingRecipe).name);
  if (type == MessageType.StripSet) endKeepingInBackground(code, nowUs);
  if (type == MessageType.BathSet && code == StoreCode.Done) onBathsKept();
  if (type == MessageType.PointSet && code == StoreCode.Done) useIncomingPoints();
  if (type == MessageType.PointsClear && code == StoreCode.Done) clearPoints();
  if (type == MessageType.BathRenew && code == StoreCode.Done) onBathMixed(nowUs);
  if (!awaitedBefore) answerStored(code, type, id, awaitedCrc);
}

/** A new conversation: what waits for the flash is still done, and its answer would fit no request. */
export function forgetAwaited(): void {
  awaitedBefore = true;
}

function answerStored(code: i32, type: i32, id: i32, crc: u32): void {
  if (code < 0)
    writeRefusal(id, errorOf(code), code == StoreCode.Failed ? ascii('the flash did not take it') : NO_WORDS);
  else if (type == MessageType.SetSetting) writeSettingLine(awaitedSetting, id);
  else writeOk(ok, id);
  answerWithLine(id, crc);
}

export function errorOf(code: i32): ErrorCode {
  switch (code) {
    case StoreCode.Full:
      return ErrorCode.Full;
    case StoreCode.NotFound:
      return ErrorCode.NotFound;
    case StoreCode.Busy:
      return ErrorCode.Busy;
    default:
      return ErrorCode.NotAllowed;
  }
}
