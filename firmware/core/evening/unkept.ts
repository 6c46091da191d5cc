/**
 * Settings and baths that the evening changed and the shelf is still to keep. Each is copied when its turn comes, so
 * that it may change again while the flash is being written.
 */
import { BATH_ROW_BYTES, bathRow, bathRowLength, bathsName } from '../baths/baths';
import { aside } from '../jobs/recipe/aside';
import { logRecipeVersion } from '../log/entries';
import { recipeBeginAt, recipeHeadAt, recipeLength } from '../recipe/recipe';
import { SETTINGS_BYTES, settingsBody, settingsName } from '../settings/settings';
import { Unkept } from '../state/keeping';
import { keeping } from '../state/state';
import { DocumentKind } from '../storage/shelf';
import { putDocument } from '../storage/shelf-writer';
import { StoreCode } from '../storage/store-code';

/** The storage hands it back; below those of the line's requests. */
export const UNKEPT_TICKET: i32 = 501;

const copy: usize = memory.data(BATH_ROW_BYTES, 8);

/** Hands the next one to the shelf if that takes it now; to be called when the lamp is neither on nor wanted. */
export function keepWhatWaits(): void {
  if (keeping.waiting == Unkept.Nothing || keeping.inBackground) return;
  if ((keeping.waiting & Unkept.Aside) != 0) keepAside();
  else if ((keeping.waiting & Unkept.Settings) != 0) keep(Unkept.Settings);
  else keep(Unkept.Baths);
}

function keep(which: Unkept): void {
  const isSettings = which == Unkept.Settings;
  const length = isSettings ? SETTINGS_BYTES : bathRowLength(bathRow);
  memory.copy(copy, isSettings ? settingsBody : bathRow, length);
  const kind = isSettings ? DocumentKind.Settings : DocumentKind.Baths;
  const code = putDocument(kind, isSettings ? settingsName : bathsName, copy, length, UNKEPT_TICKET);
  if (code == StoreCode.Busy) return;
  keeping.waiting &= ~which;
  keeping.inBackground = code == StoreCode.Waiting;
}

/** What was set aside is written from its own place, which nothing else takes meanwhile. */
function keepAside(): void {
  const name = recipeBeginAt(aside).name;
  const code = putDocument(DocumentKind.Recipe, name, aside, recipeLength(aside), UNKEPT_TICKET);
  if (code == StoreCode.Busy) return;
  keeping.waiting &= ~Unkept.Aside;
  keeping.inBackground = code == StoreCode.Waiting;
  keeping.aside = keeping.inBackground;
}

/** The storage has done with it; what it would not take is so until the power goes. */
export function endKeepingInBackground(code: i32, nowUs: i64): void {
  keeping.inBackground = false;
  if (keeping.aside && code == StoreCode.Done)
    logRecipeVersion(recipeBeginAt(aside).name, recipeHeadAt(aside).version, nowUs);
  keeping.aside = false;
}
