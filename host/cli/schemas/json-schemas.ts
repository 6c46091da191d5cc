import { z } from 'zod';
import { wireFacts } from '../../../shared-protocol/wire-types.js';
import { paperFileSchema } from '../../darkroom/paper/paper-file.js';
import { gradeTableSchema } from '../../daylight/contrast/grade-table.js';
import { filterTableSchema } from '../../daylight/filters/filter-table.js';
import { bathsFile } from '../../recipe/baths/baths-file.js';
import { recipeFile } from '../../recipe/recipe-file.js';
import { stripFile } from '../../recipe/strip-file.js';

const files = {
  recipe: { title: 'Treadle recipe', schema: recipeFile },
  baths: { title: 'Treadle baths', schema: bathsFile },
  strip: { title: 'Treadle test strip', schema: stripFile },
  filters: { title: 'Treadle filter table', schema: filterTableSchema },
  paper: { title: 'Treadle paper', schema: paperFileSchema },
  grades: { title: 'Treadle paper grades', schema: gradeTableSchema },
} as const;

/** The files that people write and editors can help with. */
export type FileKind = keyof typeof files;
export const fileKinds = Object.keys(files) as FileKind[];

/** JSON Schema (draft 2020-12) of such a file as people write it. */
export function jsonSchemaFor(kind: FileKind): object {
  const { title, schema } = files[kind];
  return {
    title,
    ...z.toJSONSchema(schema, {
      io: 'input',
      // The bound on a text is a check by our own function, which a JSON Schema cannot show by itself.
      override: ({ zodSchema, jsonSchema }) => {
        const fact = wireFacts.get(zodSchema);
        if (fact?.kind === 'text') jsonSchema.maxLength = fact.maxChars;
      },
    }),
  };
}
