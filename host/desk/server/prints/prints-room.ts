import { fromBoardRecipe } from '../../../recipe/board-recipe.js';
import { fileFromRecipe, mostFileBytes, readRecipe, writeRecipe } from '../../../recipe/index.js';
import { openArchive } from '../../../records/archive/file-archive.js';
import { listedVersions } from '../../../records/archive/recipe-versions.js';
import { keepRecipeByHand } from '../../../records/recipes/keep-by-hand.js';
import { InTurn } from '../../in-turn.js';
import { readingArchive } from '../archive-at-desk.js';
import { json, type Ways } from '../way.js';
import { Draft } from './draft.js';
import { PrintError } from './print-error.js';
import { PrintFolder } from './print-folder.js';

/** Recipe, the file that it came from, and what it was: all of them as JSON. */
const MOST_DRAFT_BYTES = 4 * mostFileBytes;

/** Where the prints of a desk are kept. */
export interface PrintsAt {
  /** Left out, the usual archive. */
  readonly archive: string | undefined;
  /** For files that the commands read. */
  readonly folder: string;
}

/** What is asked about recipes: those in the archive, those in the folder, and what is being worked on. */
export function printsRoom({ archive, folder }: PrintsAt): Ways {
  const draft = new Draft(archive);
  const files = new PrintFolder(folder);
  const inTurn = new InTurn();
  return {
    '/api/prints': {
      GET: { answer: async () => json({ versions: await versionsIn(archive), files: await files.list() }) },
    },
    '/api/prints/version': {
      GET: { answer: async ({ query }) => json(await versionOf(archive, query.get('content') ?? '')) },
      POST: {
        mostBodyBytes: mostFileBytes,
        answer: async ({ body }) => json(await inTurn.do(() => keep(archive, body))),
      },
    },
    '/api/prints/file': {
      GET: { answer: async ({ query }) => json({ text: await files.read(query.get('name') ?? '') }) },
      POST: {
        mostBodyBytes: 4 * mostFileBytes,
        answer: async ({ body }) => json(await inTurn.do(() => files.write(body))),
      },
    },
    '/api/prints/draft': {
      GET: { answer: async () => ({ type: 'application/json', bytes: await draft.tell() }) },
      POST: {
        mostBodyBytes: MOST_DRAFT_BYTES,
        answer: async ({ body, query }) => json(await draft.write(body, query.get('since'))),
      },
    },
  };
}

async function versionsIn(file: string | undefined) {
  const kept = await readingArchive(file, (archive) => archive.recipes());
  return listedVersions(kept, [], '').map(({ recipe, content, keptMs }) => {
    const { name, version, title, negative } = recipe;
    return { name, version, title, negative, content, keptMs };
  });
}

async function versionOf(file: string | undefined, content: string) {
  const kept = await readingArchive(file, (archive) => archive.recipes());
  const found = kept.findLast((one) => one.content === content);
  if (found === undefined) throw new PrintError('the archive does not have that version any more');
  return { text: writeRecipe({ ...fromBoardRecipe(found.recipe), ...found.recipe }) };
}

async function keep(file: string | undefined, body: Uint8Array) {
  const recipe = readRecipe(body);
  await using archive = await openArchive(file);
  const kept = await keepRecipeByHand(archive, recipe);
  return { file: fileFromRecipe(kept), archive: archive.file };
}
