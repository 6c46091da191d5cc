/**
 * The whole way with the library: a recipe file is read, its timeline printed, the recipe sent to a board, and the board's
 * log collected into an archive. The board is a simulated one; with openBoard('/dev/ttyACM0') it would be a real one.
 *
 *   node read-plan-send-collect.mjs boathouse.json archive.sqlite
 */
import { readFileSync } from 'node:fs';
import { formatTime, loadPlanner, readRecipe } from 'treadle';
import { collectIntoArchive, openArchive, sendRecipe } from 'treadle/archive';
import { openBoard } from 'treadle/board';
import { SimulatedBoard } from 'treadle/sim';

const [recipeFile, archiveFile] = process.argv.slice(2);

const recipe = readRecipe(readFileSync(recipeFile));
const plan = loadPlanner().planRecipe(recipe);
for (const pass of plan.passes)
  for (const { kind, label, doseMs } of pass.segments)
    console.log(
      `${pass.label}: ${kind === 'dodge' ? `hold back ${label}` : 'all open'}, ${formatTime(doseMs)}`,
    );

const simulated = new SimulatedBoard({ speed: 1 });
const board = await openBoard(simulated.plug());
try {
  const archive = await openArchive(archiveFile);
  try {
    // board.sendRecipe() would write over whatever the board has under that name.
    const { version } = (await sendRecipe(archive, board, recipe)).recipe;
    console.log(`board ${board.id} keeps '${recipe.name}' version ${version}`);
    await collectIntoArchive(archive, board);
    for await (const { type, uptimeMs } of archive.records()) console.log(`${uptimeMs} ms: ${type}`);
  } finally {
    await archive.close();
  }
} finally {
  await board.close();
  simulated.close();
}
