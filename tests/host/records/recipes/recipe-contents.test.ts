import Database from 'libsql';
import { describe, expect, it } from 'vitest';
import { readRecipe } from '../../../../host/recipe/index.js';
import { openArchive } from '../../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../../host/records/archive/read-archive.js';
import { listedVersions } from '../../../../host/records/archive/recipe-versions.js';
import { contentAt } from '../../../../host/records/recipes/content-at.js';
import { seedArchive } from '../../../formats/seed.js';
import { ownFolder } from '../../../proof/robustness/archive-folder.js';
import { demoFile } from '../../recipe/demo-recipe.js';
import { takeBackToFormat } from '../older-archive.js';

const fileOf = ownFolder();
const recipe = readRecipe(JSON.stringify({ ...demoFile(), name: 'boathouse', notes: 'mind the reeds' }));

describe('the contents of recipes in the archive', () => {
  it('stand there once, by a hash that is the same for equal ones whatever the order of their fields', async () => {
    const file = fileOf('once.sqlite');
    await using archive = await openArchive(file);
    const turned = Object.fromEntries(Object.entries(recipe).reverse()) as unknown as typeof recipe;
    await archive.keepRecipe(recipe, 'a');
    await archive.keepRecipe(turned, 'b');
    await archive.keepRecipe({ ...recipe, notes: '' }, 'b', { how: 'saved' });
    const kept = await archive.recipes();
    expect(kept.map(({ board, how }) => [board, how])).toEqual([
      ['a', 'sent'],
      ['b', 'sent'],
      ['b', 'saved'],
    ]);
    expect(kept[1]!.content).toBe(kept[0]!.content);
    expect(kept[2]!.content).not.toBe(kept[0]!.content);
    expect(kept[0]!.recipe).toEqual(recipe);
    const database = new Database(file);
    expect(database.prepare('SELECT count(*) AS count FROM recipe_content').get()).toMatchObject({
      count: 2,
    });
    database.close();
  });

  it('are told by the time of a print: what was last on that board before it', () => {
    const kept = [
      { at: 100, board: 'a', content: 'one' },
      { at: 200, board: 'b', content: 'two' },
      { at: 300, board: 'a', content: 'three' },
    ].map(({ at, board, content }, id) => ({
      ...({ id, recipe, content, how: 'sent', board, bodyCrc: null, keptMs: at } as const),
    }));
    const told = (board: string, atMs: number | null) => contentAt(kept, 1, { board, atMs })?.content;
    expect([told('a', 250), told('a', 300), told('a', 50), told('b', 999)]).toEqual([
      'one',
      'three',
      'one',
      'two',
    ]);
    expect([told('a', null), told('nowhere', 250)]).toEqual(['three', 'two']);
    expect(contentAt(kept, 2, { board: 'a', atMs: 999 })).toBeUndefined();
  });

  it('that print otherwise under one number, as earlier programs let them, are listed each with what was thought of it', async () => {
    await using archive = await openArchive(fileOf('alike.sqlite'));
    await archive.keepRecipe(recipe, 'a');
    await archive.keepRecipe({ ...recipe, baseMs: 14_000 }, 'a');
    const [light, dark] = await archive.recipes();
    const remark = { name: 'boathouse', version: 1, rating: null, sheet: null };
    await archive.addRemark({ ...remark, content: light!.content, words: 'too light' });
    await archive.addRemark({ ...remark, content: dark!.content, words: 'right' });
    const listed = listedVersions(await archive.recipes(), await archive.remarks(), '');
    expect(
      listed.map(({ recipe: { baseMs }, remarks }) => [baseMs, remarks.map(({ words }) => words)]),
    ).toEqual([
      [12_500, ['too light']],
      [14_000, ['right']],
    ]);
  });

  it('of a version that was sent again with other notes are one, with what was thought of each; in order of name and version', async () => {
    await using archive = await openArchive(fileOf('again.sqlite'));
    for (const [name, version, notes] of [
      ['jetty', 2, ''],
      ['jetty', 10, ''],
      ['boathouse', 3, 'first'],
      ['boathouse', 3, 'second'],
      ['jetty', 1, ''],
    ] as const)
      await archive.keepRecipe({ ...recipe, name, version, notes }, 'a');
    const kept = await archive.recipes();
    const contentOf = (words: string) =>
      kept.find(({ recipe: one }) => 'notes' in one && one.notes === words)!.content;
    const remark = { name: 'boathouse', version: 3, rating: 4, sheet: null };
    for (const words of ['first', 'second'])
      await archive.addRemark({ ...remark, content: contentOf(words), words });
    await archive.addRemark({ ...remark, content: null, words: 'in general' });
    const listed = listedVersions(kept, await archive.remarks(), recipe.negative.toUpperCase());
    expect(listed.map(({ recipe: { name, version } }) => `${name} ${version}`)).toEqual([
      ...['boathouse 3', 'jetty 1', 'jetty 2', 'jetty 10'],
    ]);
    expect(listed[0]).toMatchObject({ recipe: { notes: 'second' } });
    expect(listed.map(({ remarks }) => remarks.map(({ words }) => words))).toEqual([
      ...[['first', 'second', 'in general'], [], [], []],
    ]);
    expect(listedVersions(kept, [], 'no such negative')).toEqual([]);
  });

  it('and what was said of them before single sheets could be meant is read, and kept beside what is', async () => {
    const file = fileOf('recipes-only.sqlite');
    const said = { name: 'boathouse', version: 1, content: null, rating: 4, words: 'fine' };
    {
      await using archive = await openArchive(file);
      await archive.addRemark({ ...said, sheet: null });
    }
    takeBackToFormat(file, 5);
    {
      await using archive = await readArchive(file);
      expect(await archive.remarks()).toMatchObject([{ ...said, sheet: null }]);
    }
    await using archive = await openArchive(file);
    const sheet = { board: 'a', log: 0, boot: 3, seq: 41 };
    await archive.addRemark({ ...said, sheet });
    expect((await archive.remarks()).map((one) => one.sheet)).toEqual([null, sheet]);
  });

  it('of an archive of the first format are read the same with and without bringing it up to date', async () => {
    const file = seedArchive(1, fileOf('old.sqlite'));
    const all = async (open: typeof readArchive) => {
      await using archive = await open(file);
      return { recipes: await archive.recipes(), remarks: await archive.remarks() };
    };
    const before = await all(readArchive);
    expect(before.recipes.length).toBeGreaterThan(0);
    const { content } = before.recipes.find(({ recipe: { name } }) => name === 'skelder-mere')!;
    expect(before.remarks.map((remark) => remark.content)).toEqual([null, content]);
    expect(await all(openArchive)).toEqual(before);
    expect(await all(readArchive)).toEqual(before);
  });
});
