import type { Recipe } from '../../recipe/index.js';
import { type PrintSize, sizeText } from '../../recipe/print-size.js';
import { MOST_NAME_CHARS, nameFromTitle } from '../../recipe/recipe-name.js';

/** As the recipe file's schema has it. */
const MOST_TITLE_CHARS = 80;
/** How an earlier change of size ended a name and a title. */
const SIZE_IN_NAME = /-(?:\d+(?:-\d+)?x\d+(?:-\d+)?(?:mm|cm|in)|\d+(?:-\d+)?-times)$/;
const SIZE_IN_TITLE = /, (?:[\d.]+ x [\d.]+ (?:mm|cm|in)|[\d.]+ times)$/;

/** '30 x 40 cm', or '6.5 times' where only the magnification is known. */
export function sizeWords(paper: PrintSize | undefined, magnification: number | undefined): string {
  if (paper !== undefined) return sizeText(paper);
  return magnification === undefined ? '' : `${Number(magnification.toPrecision(3))} times`;
}

/**
 * The same print at another size is a recipe of its own, so that neither takes the other's place on a board: name and
 * title end in the size, the version begins anew.
 */
export function namedForSize(
  recipe: Recipe,
  size: string,
): Pick<Recipe, 'name' | 'title'> & { version: number } {
  const ending = nameFromTitle(size.replaceAll(' x ', 'x').replace(/ (mm|cm|in)$/, '$1'));
  const stem = wholeWords(recipe.name.replace(SIZE_IN_NAME, ''), MOST_NAME_CHARS - ending.length - 1);
  const title = recipe.title.replace(SIZE_IN_TITLE, '').slice(0, MOST_TITLE_CHARS - size.length - 2);
  return { name: `${stem}-${ending}`, title: `${title}, ${size}`, version: 0 };
}

/** As much of a name as has room, and no half words but where there is only one. */
function wholeWords(name: string, chars: number): string {
  if (name.length <= chars) return name;
  const cut = name.slice(0, chars + 1);
  return cut.includes('-') ? cut.slice(0, cut.lastIndexOf('-')) : cut.slice(0, chars);
}
