import type { Command } from 'commander';
import { recipeJsonSchema } from '../../recipe/index.js';
import { examples } from '../options.js';
import { print } from '../terminal/print.js';

export function define(command: Command): void {
  command.addHelpText('after', examples('treadle schema > recipe.schema.json')).action(() => {
    print(JSON.stringify(recipeJsonSchema(), undefined, 2));
  });
}
