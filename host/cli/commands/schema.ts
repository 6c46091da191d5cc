import { Argument, type Command } from 'commander';
import { jsonText } from '../../json-text.js';
import { examples } from '../options.js';
import { type FileKind, fileKinds, jsonSchemaFor } from '../schemas/json-schemas.js';
import { print } from '../terminal/print.js';

export function define(command: Command): void {
  command
    .addArgument(new Argument('[kind]', 'kind of file').choices(fileKinds).default('recipe'))
    .addHelpText(
      'after',
      examples('treadle schema > recipe.schema.json', 'treadle schema filters > filters.schema.json'),
    )
    .action((kind: FileKind) => {
      print(jsonText(jsonSchemaFor(kind), 2));
    });
}
