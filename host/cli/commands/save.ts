import type { Command } from 'commander';
import { readRecipe, writeRecipe } from '../../recipe/index.js';
import { openArchive } from '../../records/archive/file-archive.js';
import { type Completed, completed } from '../../records/recipes/completed.js';
import { contentToComplete } from '../../records/recipes/content-at.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { archiveOption, examples, forceOption, outputOption, portOption, traceOption } from '../options.js';
import { readRecipeName } from '../read-options.js';
import { readOwnFile } from '../read-own-file.js';
import { cleanText } from '../terminal/clean-text.js';
import { remark } from '../terminal/print.js';
import { checkNewFile, writeNewFile } from '../write-new-file.js';

interface SaveOptions extends BoardOptions {
  readonly output?: string;
  readonly force?: true;
  readonly like?: string;
  readonly archive?: string;
}

export function define(command: Command): void {
  command
    .argument('<name>', 'name of the recipe, as treadle recipes shows it')
    .option(
      '--like <recipe>',
      'file to take shapes, notes and whole texts from, which no board holds; by default the archive',
    )
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(outputOption('file to write; by default the recipe is printed'))
    .addOption(forceOption())
    .addOption(archiveOption())
    .addHelpText('after', examples('treadle save boathouse --output boathouse-2.json'))
    .action(saveRecipe);
}

async function saveRecipe(words: string, options: SaveOptions): Promise<void> {
  const name = readRecipeName('<name>', words);
  if (options.output !== undefined) await checkNewFile(options.output, options.force === true);
  const like = options.like === undefined ? undefined : await readOwnFile(options.like, '--like', readRecipe);
  await using archive = await openArchive(options.archive);
  const [onBoard, boardId] = await withBoard(options, async (board) => [
    await board.getRecipe(name),
    board.id,
  ]);
  const kept = like ?? contentToComplete(await archive.recipes(name), onBoard)?.recipe;
  const whole = completed(onBoard, kept);
  const text = writeRecipe(whole.recipe);
  if (options.output === undefined) process.stdout.write(text);
  else await writeNewFile(options.output, text, options.force === true);
  await archive.keepRecipe(whole.recipe, boardId, { how: 'saved' });
  if (options.output !== undefined)
    remark(`'${onBoard.name}' version ${onBoard.version} is in ${options.output}.`);
  tellWhatStayed(whole, kept);
}

/** Shapes and notes are on no board: says where they came from, or that they are lacking. */
function tellWhatStayed({ unplaced }: Completed, kept: { readonly version: number } | undefined): void {
  if (kept === undefined)
    remark('The board holds no notes and no whole texts, and the archive has none of this recipe.');
  else remark(`Notes, whole texts and shapes are those kept with version ${kept.version}.`);
  if (unplaced.length > 0)
    remark(
      cleanText(
        `Nothing tells where these lie on the paper: ${unplaced.join(', ')}. ` +
          'Give their shapes in the file, or --like a file that has them.',
      ),
    );
}
