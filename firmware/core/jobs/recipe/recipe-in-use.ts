/** The recipe in use: taken from the shelf, or a plain one for a base that was found without any. */
import { RECIPE_BEGIN_BYTES } from '../../generated/codec';
import { ErrorCode, Job } from '../../generated/constants';
import { logRecipeTaken } from '../../log/entries';
import { ascii, copyText } from '../../protocol/texts';
import {
  activeRecipe,
  emptyRecipe,
  nameInUse,
  RECIPE_BODY_BYTES,
  recipeBeginAt,
  recipeHeadAt,
  recipePassAt,
} from '../../recipe/recipe';
import { Unkept } from '../../state/keeping';
import { chosen, keeping, reading } from '../../state/state';
import {
  DocumentKind,
  described,
  findDocument,
  isIntact,
  readDocument,
  readWhole,
} from '../../storage/shelf';
import { aimBracket } from '../bracket/bracket-choice';
import { negativeName } from './negatives';
import { setAside } from './set-aside';

/** Fine as asked; otherwise an ErrorCode. */
export const FINE: i32 = -1;

/** Takes the recipe of that name from the shelf; the one before stays when it is not there or damaged. */
export function takeRecipe(name: usize): i32 {
  const document = findDocument(DocumentKind.Recipe, name);
  if (document < 0) return ErrorCode.NotFound;
  if (!isIntact(document)) return ErrorCode.Damaged;
  const length = i32(described.bodyBytes);
  if (length < RECIPE_BEGIN_BYTES || length > i32(RECIPE_BODY_BYTES)) return ErrorCode.NotFound;
  if (!setAside()) return ErrorCode.Busy;
  emptyRecipe(activeRecipe);
  readDocument(document, 0, activeRecipe, length);
  if (chosen.recipeIsChanged) chosen.turnsAreGone = true;
  chosen.recipeIsChanged = false;
  forgetOldRecipe();
  return FINE;
}

/** Before the log has anything of the recipe in use: that what was turned before it was taken does not hold for it. */
export function logTakenAnew(nowUs: i64): void {
  if (!chosen.turnsAreGone) return;
  chosen.turnsAreGone = false;
  logRecipeTaken(nameInUse(), recipeHeadAt(activeRecipe).version, nowUs);
}

/** After power-up: the one in use as it was changed and not kept; false where the shelf has no such one. */
export function takeUnkeptRecipe(): bool {
  const name = ascii('desk');
  if (readWhole(DocumentKind.UnkeptRecipe, name, activeRecipe, RECIPE_BODY_BYTES) == 0) return false;
  aimBracket();
  return true;
}

/**
 * A recipe of one pass under that filter, for negative `number`; its base is still to be set. False while what was
 * found before is still being kept.
 */
export function makePlainRecipe(number: i32, filter: usize): bool {
  if (!setAside()) return false;
  emptyRecipe(activeRecipe);
  const begin = recipeBeginAt(activeRecipe);
  begin.passes = 1;
  copyText(begin.name, negativeName(number));
  const pass = recipePassAt(activeRecipe, 0);
  pass.pass = 1;
  copyText(pass.label, ascii('whole sheet'));
  copyText(pass.filter, filter);
  chosen.recipeIsChanged = true;
  forgetOldRecipe();
  return true;
}

/** The knob, or what was read on paper, changed it. */
export function markRecipeChanged(): void {
  chosen.recipeIsChanged = true;
  keeping.waiting |= Unkept.Recipe;
}

/** What was chosen or given of the recipe before does not hold for this one. */
function forgetOldRecipe(): void {
  aimBracket();
  if (reading.unread == Job.Bracket) reading.unread = Job.None;
}
