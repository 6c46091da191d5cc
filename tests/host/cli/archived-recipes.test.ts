import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readRecipe } from '../../../host/recipe/index.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { treadle } from './treadle.js';

describe('recipes in the archive', () => {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-test-'));
  const file = join(folder, 'archive.sqlite');
  beforeAll(async () => {
    const recipe = readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json')));
    await using archive = await openArchive(file);
    await archive.keepRecipe(recipe, 'b1');
    await archive.keepRecipe({ ...recipe, version: 2, baseMs: 14_000 }, 'b1');
    await archive.keepRecipe({ ...recipe, name: 'jetty', negative: 'roll 9' }, 'b1');
  });
  afterAll(() => rmSync(folder, { recursive: true }));
  const list = async (...words: string[]) =>
    JSON.parse((await treadle(['recipes', '--archive', file, '--json', ...words])).out) as {
      recipe: { name: string; version: number };
      remarks: { rating: number | null; words: string }[];
    }[];

  it('are listed version by version', async () => {
    expect((await list()).map(({ recipe }) => [recipe.name, recipe.version])).toEqual([
      ['boathouse', 1],
      ['boathouse', 2],
      ['jetty', 1],
    ]);
  });

  it('are found by their negative', async () => {
    expect((await list('--negative', 'ROLL')).map(({ recipe }) => recipe.name)).toEqual(['jetty']);
  });

  it('take remarks once the print is dry, the latest version’s where none is named', async () => {
    const note = (...words: string[]) => treadle(['remark', '--archive', file, ...words]);
    expect((await note('boathouse', '--rating', '4', 'sky', 'a sixth less')).code).toBe(0);
    expect((await note('boathouse', '--of', '1', 'too light')).code).toBe(0);
    expect((await list()).map(({ remarks }) => remarks.map(({ rating, words }) => [rating, words]))).toEqual([
      [[null, 'too light']],
      [[4, 'sky a sixth less']],
      [],
    ]);
  });

  it.each([
    [['nowhere', 'fine'], /no recipe 'nowhere'/],
    [['boathouse'], /--rating, or some words/],
    [['boathouse', '--rating', '6'], /from 1 to 5/],
    [['boathouse', '--of', '7', 'x'], /no version 7/],
  ])('refuses %j in words', async (words, message) => {
    const ran = await treadle(['remark', '--archive', file, ...words]);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(message);
  });
});
