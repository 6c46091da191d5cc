/** The recipes on the shelf as lines: one a recipe for the list, or all the lines that would upload one. */
import {
  RECIPE_BEGIN_BYTES,
  RECIPE_DODGE_BYTES,
  RECIPE_FINE_BYTES,
  RECIPE_HEAD_BYTES,
  RECIPE_LINE_BYTES,
  RECIPE_PASS_BYTES,
  RECIPE_TEXT_BYTES,
  recipeBegin,
  recipeDodge,
  recipeFine,
  recipeHead,
  recipeLine,
  recipePass,
  recipeText,
  writeRecipeBegin,
  writeRecipeDodge,
  writeRecipeFine,
  writeRecipeHead,
  writeRecipeLine,
  writeRecipePass,
  writeRecipeText,
} from '../generated/codec';
import { RECIPE_TEXT_COUNT, RecipeText as Which } from '../generated/constants';
import { finesAt, HEAD_AT, PASSES_AT, TEXTS_AT } from '../recipe/recipe';
import { described, isIntact, readDocument } from '../storage/shelf';
import { StoreCode } from '../storage/store-code';
import { copyText } from './texts';

/** Writes the line that lists a recipe; of a damaged one no more than the name, which has a checksum of its own. */
export function writeListLine(document: i32, id: i32): void {
  recipeLine.intact = isIntact(document);
  if (recipeLine.intact) takeListed(document);
  else listName();
  writeRecipeLine(recipeLine, id);
}

/** `isIntact` has described it. */
function listName(): void {
  memory.fill(changetype<usize>(recipeLine), 0, RECIPE_LINE_BYTES);
  copyText(recipeLine.name, described.name);
}

function takeListed(document: i32): void {
  readPart(document, 0, changetype<usize>(recipeBegin), RECIPE_BEGIN_BYTES);
  readPart(document, HEAD_AT, changetype<usize>(recipeHead), RECIPE_HEAD_BYTES);
  readText(document, Which.Title);
  copyText(recipeLine.name, recipeBegin.name);
  copyText(recipeLine.title, recipeText.value);
  recipeLine.version = recipeHead.version;
  recipeLine.passes = recipeBegin.passes;
  recipeLine.baseMs = recipeHead.baseMs;
  recipeLine.bodyCrc = described.bodyChecksum;
}

/** Lines of a fetch before its first pass: begin, texts, head. */
const LINES_BEFORE_PASSES: i32 = RECIPE_TEXT_COUNT + 2;

/**
 * Writes line `number` (from 0) of a recipe being fetched; false when it has no such line. The order is that of
 * an upload: begin, texts, head, then each pass with its dodges, then the fine parts.
 */
export function writeLineOfRecipe(document: i32, number: i32, id: i32): bool {
  readPart(document, 0, changetype<usize>(recipeBegin), RECIPE_BEGIN_BYTES);
  if (number >= LINES_BEFORE_PASSES) return writePassLine(document, number - LINES_BEFORE_PASSES, id);
  if (number == 0) {
    writeRecipeBegin(recipeBegin, id);
  } else if (number <= RECIPE_TEXT_COUNT) {
    readText(document, number - 1);
    writeRecipeText(recipeText, id);
  } else {
    readPart(document, HEAD_AT, changetype<usize>(recipeHead), RECIPE_HEAD_BYTES);
    writeRecipeHead(recipeHead, id);
  }
  return true;
}

/** Line `number` of the passes, each followed by its dodges. */
function writePassLine(document: i32, number: i32, id: i32): bool {
  let dodges = 0;
  for (let pass = 0; pass < i32(recipeBegin.passes); pass++) {
    readPart(
      document,
      PASSES_AT + pass * RECIPE_PASS_BYTES,
      changetype<usize>(recipePass),
      RECIPE_PASS_BYTES,
    );
    if (number == 0) {
      writeRecipePass(recipePass, id);
      return true;
    }
    if (number <= i32(recipePass.dodges)) {
      writeDodgeLine(document, dodges + number - 1, id);
      return true;
    }
    number -= 1 + recipePass.dodges;
    dodges += recipePass.dodges;
  }
  return writeFineLine(document, number, id);
}

/** Line `number` of the fine parts; a recipe without any ends before. */
function writeFineLine(document: i32, number: i32, id: i32): bool {
  const at = finesAt(recipeBegin) + number * RECIPE_FINE_BYTES;
  const code = readDocument(document, at, changetype<usize>(recipeFine), RECIPE_FINE_BYTES);
  if (code != StoreCode.Done) return false;
  recipeFine.offset = u8(number + 1);
  writeRecipeFine(recipeFine, id);
  return true;
}

function writeDodgeLine(document: i32, dodge: i32, id: i32): void {
  const first = PASSES_AT + i32(recipeBegin.passes) * RECIPE_PASS_BYTES;
  readPart(document, first + dodge * RECIPE_DODGE_BYTES, changetype<usize>(recipeDodge), RECIPE_DODGE_BYTES);
  writeRecipeDodge(recipeDodge, id);
}

function readText(document: i32, which: i32): void {
  readPart(document, TEXTS_AT + which * RECIPE_TEXT_BYTES, changetype<usize>(recipeText), RECIPE_TEXT_BYTES);
  recipeText.which = u8(which); // a recipe sent without this text has nothing there
}

function readPart(document: i32, offset: i32, into: usize, length: i32): void {
  readDocument(document, offset, into, length);
}
