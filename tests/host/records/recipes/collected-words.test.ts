import { expect, it } from 'vitest';
import { readRecipe, toBoardRecipe } from '../../../../host/recipe/index.js';
import { type Collected, collectedWords } from '../../../../host/records/recipes/collect-everything.js';
import { demoFile } from '../../recipe/demo-recipe.js';

const onBoard = toBoardRecipe(readRecipe(JSON.stringify({ ...demoFile(), name: 'boathouse' })));
const nothing = { board: 'a1', added: 0, known: 0, holes: [], forgottenUptoSeq: undefined };

it.each<[Partial<Collected['report']>, Collected['recipes'], string]>([
  [{}, [], '0 new records of board a1 in night.sqlite.'],
  [{ added: 1, forgottenUptoSeq: 9 }, [], '1 new record of board a1 in night.sqlite.'],
  [
    { added: 2 },
    [],
    '2 new records of board a1 in night.sqlite.\nThe board is busy and keeps them too, until the next time you collect.',
  ],
  [
    { known: 1, forgottenUptoSeq: 9 },
    [],
    '0 new records of board a1 in night.sqlite.\n1 record came that the archive had already.',
  ],
  [
    { added: 5, holes: [4, 5, 6, 9], forgottenUptoSeq: 12 },
    [],
    '5 new records of board a1 in night.sqlite.\nThe board has no record for 4 numbers: 4-6, 9.',
  ],
  [
    { forgottenUptoSeq: 9 },
    [onBoard, { ...onBoard, version: 2 }],
    "0 new records of board a1 in night.sqlite.\nRecipes as the board has them, which the archive had not: 'boathouse' version 1, 'boathouse' version 2.",
  ],
])('what was collected is said in words, and only what there was: %j', (report, recipes, words) => {
  expect(collectedWords({ report: { ...nothing, ...report }, recipes }, 'night.sqlite')).toBe(words);
});
