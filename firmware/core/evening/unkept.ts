/**
 * Settings, baths, a changed recipe and the desk, which the evening changed and the shelf is still to keep. Each is copied
 * when its turn comes, so that it may change again while the flash is being written.
 */
import { BATH_ROW_BYTES, bathRow, bathRowLength, bathsName } from '../baths/baths';
import { aside } from '../jobs/recipe/aside';
import { logRecipeVersion } from '../log/entries';
import { activeRecipe, RECIPE_BODY_BYTES, recipeBeginAt, recipeHeadAt, recipeLength } from '../recipe/recipe';
import { SETTINGS_BYTES, settingsBody, settingsName } from '../settings/settings';
import { Unkept } from '../state/keeping';
import { checkup, keeping } from '../state/state';
import { DocumentKind } from '../storage/shelf';
import { putDocument } from '../storage/shelf-writer';
import { StoreCode } from '../storage/store-code';
import { DESK_BYTES, deskHasChanged, deskName, forgetKeptDesk, keptDesk } from './desk';

/** The storage hands it back; below those of the line's requests. */
export const UNKEPT_TICKET: i32 = 501;

/** The longest of them. */
const COPY_BYTES: i32 = RECIPE_BODY_BYTES;
const copy: usize = memory.data(COPY_BYTES, 8);

/** Hands the next one to the shelf if that takes it now; to be called when the lamp is neither on nor wanted. */
export function keepWhatWaits(): void {
  if (keeping.inBackground) return;
  if ((keeping.waiting & Unkept.Aside) != 0) {
    keepAside();
  } else if ((keeping.waiting & Unkept.Settings) != 0) {
    keep(Unkept.Settings, DocumentKind.Settings, settingsName, settingsBody, SETTINGS_BYTES);
  } else if ((keeping.waiting & Unkept.Baths) != 0) {
    keep(Unkept.Baths, DocumentKind.Baths, bathsName, bathRow, bathRowLength(bathRow));
  } else if ((keeping.waiting & Unkept.Recipe) != 0) {
    keep(Unkept.Recipe, DocumentKind.UnkeptRecipe, deskName(), activeRecipe, recipeLength(activeRecipe));
  } else {
    keepDesk(UNKEPT_TICKET);
  }
}

/** What lies on the desk as it is now, from its own copy; Done where the shelf has it so. */
export function keepDesk(ticket: i32): StoreCode {
  if (keeping.inBackground) return StoreCode.Busy;
  if (!deskHasChanged()) return StoreCode.Done;
  const code = putDocument(DocumentKind.Desk, deskName(), keptDesk, DESK_BYTES, ticket);
  if (code == StoreCode.Busy) forgetKeptDesk();
  keeping.inBackground = code == StoreCode.Waiting;
  return code;
}

function keep(which: Unkept, kind: DocumentKind, name: usize, body: usize, length: i32): void {
  if (BATH_ROW_BYTES > COPY_BYTES || SETTINGS_BYTES > COPY_BYTES) ERROR('the copy needs more room');
  memory.copy(copy, body, length);
  const code = putDocument(kind, name, copy, length, UNKEPT_TICKET);
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
  if (code == StoreCode.Done) checkup.isUnwritten = false;
  if (keeping.aside && code == StoreCode.Done)
    logRecipeVersion(recipeBeginAt(aside).name, recipeHeadAt(aside).version, nowUs);
  keeping.aside = false;
}
