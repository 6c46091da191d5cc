/**
 * A recipe on its way in: begin, texts, head, passes with their dodges, commit. The body is put together beside
 * the active one, and only a whole one that checks out is handed on to be kept.
 */
import {
  RECIPE_BEGIN_BYTES,
  RECIPE_DODGE_BYTES,
  RECIPE_HEAD_BYTES,
  RECIPE_PASS_BYTES,
  RECIPE_TEXT_BYTES,
  recipeBegin,
  recipeDodge,
  recipeFine,
  recipeHead,
  recipePass,
  recipeText,
} from '../generated/codec';
import {
  emptyRecipe,
  RECIPE_BODY_BYTES,
  recipeBeginAt,
  recipeDodgeAt,
  recipeFineAt,
  recipeHeadAt,
  recipePassAt,
  recipeTextAt,
} from '../recipe/recipe';
import { hexDigit } from './characters';
import { CRC32_EMPTY, crc32Step } from './crc32';
import { NO_WORDS } from './refusals';
import { ascii, isEmptyText } from './texts';

/** The body being put together. */
export const incomingRecipe: usize = memory.data(RECIPE_BODY_BYTES, 8);

/** What an upload may answer to a part; the words are for the refusal. */
export enum Part {
  Taken,
  NoBegin,
  OutOfOrder,
  TooMany,
  Unfinished,
  Damaged,
  NoName,
}

let open: bool = false;
let passes: i32 = 0;
let dodges: i32 = 0;
let dodgesDue: i32 = 0;
let headTaken: bool = false;
let whole: u32 = 0;

export function forgetUpload(): void {
  open = false;
}

/** Each function takes the record that the codec has just read into its scratch place. */
export function takeBegin(lineCrc: u32): Part {
  if (isEmptyText(recipeBegin.name)) return Part.NoName;
  emptyRecipe(incomingRecipe);
  memory.copy(incomingRecipe, changetype<usize>(recipeBegin), RECIPE_BEGIN_BYTES);
  open = true;
  headTaken = false;
  passes = 0;
  dodges = 0;
  dodgesDue = 0;
  whole = CRC32_EMPTY;
  addToWhole(lineCrc);
  return Part.Taken;
}

export function takeText(lineCrc: u32): Part {
  if (!open) return Part.NoBegin;
  const to = changetype<usize>(recipeTextAt(incomingRecipe, recipeText.which));
  memory.copy(to, changetype<usize>(recipeText), RECIPE_TEXT_BYTES);
  addToWhole(lineCrc);
  return Part.Taken;
}

export function takeHead(lineCrc: u32): Part {
  if (!open) return Part.NoBegin;
  memory.copy(
    changetype<usize>(recipeHeadAt(incomingRecipe)),
    changetype<usize>(recipeHead),
    RECIPE_HEAD_BYTES,
  );
  headTaken = true;
  addToWhole(lineCrc);
  return Part.Taken;
}

export function takePass(lineCrc: u32): Part {
  if (!open) return Part.NoBegin;
  const begin = recipeBeginAt(incomingRecipe);
  if (i32(recipePass.pass) != passes + 1 || dodgesDue > 0) return Part.OutOfOrder;
  if (passes >= i32(begin.passes) || dodges + recipePass.dodges > i32(begin.dodges)) return Part.TooMany;
  const to = changetype<usize>(recipePassAt(incomingRecipe, passes));
  memory.copy(to, changetype<usize>(recipePass), RECIPE_PASS_BYTES);
  passes++;
  dodgesDue = recipePass.dodges;
  addToWhole(lineCrc);
  return Part.Taken;
}

export function takeDodge(lineCrc: u32): Part {
  if (!open) return Part.NoBegin;
  if (dodgesDue == 0) return Part.OutOfOrder;
  const to = changetype<usize>(recipeDodgeAt(incomingRecipe, dodges));
  memory.copy(to, changetype<usize>(recipeDodge), RECIPE_DODGE_BYTES);
  dodges++;
  dodgesDue--;
  addToWhole(lineCrc);
  return Part.Taken;
}

/** In any order, after recipe-begin. */
export function takeFine(lineCrc: u32): Part {
  if (!open) return Part.NoBegin;
  const begin = recipeBeginAt(incomingRecipe);
  const index = i32(recipeFine.offset) - 1;
  if (index >= i32(begin.passes) + i32(begin.dodges)) return Part.TooMany;
  recipeFineAt(incomingRecipe, index).fine3M = recipeFine.fine3M;
  addToWhole(lineCrc);
  return Part.Taken;
}

/** Closes the upload; Taken means that the body is whole, and nobody can add to it any more. */
export function takeCommit(sum: u32): Part {
  if (!open) return Part.NoBegin;
  const begin = recipeBeginAt(incomingRecipe);
  if (!headTaken || passes < i32(begin.passes) || dodges < i32(begin.dodges)) return Part.Unfinished;
  if (sum != whole) return Part.Damaged;
  open = false;
  return Part.Taken;
}

/** The checksum of the whole runs over the checksums of its lines, in the 8 digits that the line carries. */
function addToWhole(lineCrc: u32): void {
  let register = ~whole;
  for (let shift = 28; shift >= 0; shift -= 4)
    register = crc32Step(register, hexDigit((lineCrc >> shift) & 15));
  whole = ~register;
}

export function partWords(part: Part): usize {
  switch (part) {
    case Part.NoBegin:
      return ascii('no upload is under way: send recipe-begin first');
    case Part.OutOfOrder:
      return ascii('this part is not the next one');
    case Part.TooMany:
      return ascii('more parts than recipe-begin announced');
    case Part.Unfinished:
      return ascii('parts of the recipe are missing');
    case Part.Damaged:
      return ascii('the checksum of the whole does not fit');
    case Part.NoName:
      return ascii('the recipe needs a name');
    default:
      return NO_WORDS;
  }
}
