import type { Recipe } from '../../../../host/recipe/recipe.js';
import type { Archive } from '../../../../host/records/archive/archive.js';
import { collectIntoArchive } from '../../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../../host/records/archive/file-archive.js';
import { Printer } from './printer.js';

/** An archive of that name with a recipe, the sheets that a printer makes by it in `work`, and the log of them. */
export async function printIntoArchive(
  name: string,
  recipe: Recipe,
  work: (printer: Printer, archive: Archive) => Promise<void>,
): Promise<void> {
  const printer = new Printer();
  await using archive = await openArchive(name, printer.pair.clock);
  await printer.setUp([recipe]);
  await archive.keepRecipe(recipe, printer.pair.board.id);
  await work(printer, archive);
  const board = await printer.pair.open();
  await printer.pair.over(collectIntoArchive(archive, board));
  await board.close();
}
