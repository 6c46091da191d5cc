/** Recipes that are kept in the dark under a number, negative-1 to negative-99; the laptop gives them letters later. */
import { ascii, copyText, sameText } from '../../protocol/texts';
import { hasRecipe, nameInUse, recipeBeginAt } from '../../recipe/recipe';
import { DocumentKind, findDocument, NAME_BYTES } from '../../storage/shelf';
import { aside, hasAside } from './aside';

/** More than the shelf has room for, so that one is always free. */
export const MOST_NEGATIVES: i32 = 99;
const name: usize = memory.data(1 + NAME_BYTES);

/** A text, until the next one is asked for. */
export function negativeName(number: i32): usize {
  copyText(name, ascii('negative-'));
  if (number >= 10) putDigit(number / 10);
  putDigit(number % 10);
  return name;
}

function putDigit(digit: i32): void {
  const length = load<u8>(name) + 1;
  store<u8>(name, length);
  store<u8>(name + length, u8(0x30 + digit));
}

/** Neither the shelf has it, nor is it in use or on its way to the shelf. */
export function isFreeNegative(number: i32): bool {
  const text = negativeName(number);
  if (hasRecipe() && sameText(text, nameInUse())) return false;
  if (hasAside() && sameText(text, recipeBeginAt(aside).name)) return false;
  return findDocument(DocumentKind.Recipe, text) < 0;
}

export function firstFreeNegative(): i32 {
  let number = 1;
  while (!isFreeNegative(number)) number++;
  return number;
}
