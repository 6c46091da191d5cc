import LibsqlDatabase from 'libsql';
import { expect, it } from 'vitest';
import { openArchive } from '../../../../host/records/archive/file-archive.js';
import { recipesNamedSql } from '../../../../host/records/archive/recipe-rows.js';
import { ownFolder } from '../../../proof/robustness/archive-folder.js';
import { recipe } from '../../board/link/laptop.js';

const fileOf = ownFolder();

// Every recipe in the file was looked at for each that was sent, remarked on or printed again.
it('a recipe is found by its name without looking at the others', async () => {
  const file = fileOf('recipes.sqlite');
  await using archive = await openArchive(file);
  await archive.keepRecipe(recipe('Jetty'), null);
  const database = new LibsqlDatabase(file);
  const plan = database.prepare(`EXPLAIN QUERY PLAN ${recipesNamedSql}`).all({ name: 'jetty' }) as {
    detail: string;
  }[];
  database.close();
  const words = plan.map(({ detail }) => detail).join('; ');
  expect(words).toContain('USING INDEX recipe_by_name');
  expect(words).not.toContain('SCAN');
  expect(await archive.recipes('jetty')).toHaveLength(1);
});
