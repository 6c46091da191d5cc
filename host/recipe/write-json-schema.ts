/** Build step: the recipe file's JSON Schema, for editors, to dist/recipe.schema.json. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../shared-protocol/project.js';
import { recipeJsonSchema } from './recipe-json-schema.js';

writeFileSync(
  join(projectRoot, 'dist', 'recipe.schema.json'),
  `${JSON.stringify(recipeJsonSchema(), undefined, 2)}\n`,
);
