import { z } from 'zod';
import { wireFacts } from '../../shared-protocol/wire-types.js';
import { recipeFile } from './recipe-file.js';

/** JSON Schema (draft 2020-12) of the recipe file as people write it. */
export function recipeJsonSchema(): object {
  return {
    title: 'Treadle recipe',
    ...z.toJSONSchema(recipeFile, {
      io: 'input',
      // The bound on a text is a check by our own function, which a JSON Schema cannot show by itself.
      override: ({ zodSchema, jsonSchema }) => {
        const fact = wireFacts.get(zodSchema);
        if (fact?.kind === 'text') jsonSchema.maxLength = fact.maxChars;
      },
    }),
  };
}
