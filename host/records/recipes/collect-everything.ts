import type { Board } from '../../board/link/board.js';
import { nameOf } from '../../board/link/find-boards.js';
import { counted } from '../../figures.js';
import { numberRanges } from '../../number-ranges.js';
import type { BoardRecipe } from '../../recipe/board-recipe.js';
import type { Archive } from '../archive/archive.js';
import { type CollectReport, collectIntoArchive } from '../archive/collect-log.js';
import { collectRecipes } from './collect-recipes.js';

/** What came of a board into the archive. */
export interface Collected {
  readonly report: CollectReport;
  readonly recipes: readonly BoardRecipe[];
}

/** What the board logged and keeps goes into the archive, and what the printer calls it. */
export async function collectEverything(
  archive: Archive,
  board: Board,
  onProgress: (done: number, all: number) => void,
): Promise<Collected> {
  const report = await collectIntoArchive(archive, board, { onProgress });
  const name = await nameOf(board);
  if (name !== undefined) await archive.nameBoard(board.id, name);
  return { report, recipes: await collectRecipes(archive, board) };
}

/** The same in words, a line each; texts of the board are as they came. */
export function collectedWords({ report, recipes }: Collected, file: string): string {
  const { board, added, known, holes, forgottenUptoSeq } = report;
  const lines = [`${counted(added, 'new record')} of board ${board} in ${file}.`];
  if (known > 0) lines.push(`${counted(known, 'record')} came that the archive had already.`);
  if (holes.length > 0)
    lines.push(`The board has no record for ${counted(holes.length, 'number')}: ${numberRanges(holes)}.`);
  if (added > 0 && forgottenUptoSeq === undefined)
    lines.push('The board is busy and keeps them too, until the next time you collect.');
  return [...lines, ...recipeWords(recipes)].join('\n');
}

function recipeWords(recipes: readonly BoardRecipe[]): string[] {
  if (recipes.length === 0) return [];
  const names = recipes.map(({ name, version }) => `'${name}' version ${version}`).join(', ');
  return [`Recipes as the board has them, which the archive had not: ${names}.`];
}
