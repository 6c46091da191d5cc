/** Build step: the JSON Schemas of the files that people write, for editors, to dist/. */
import { join } from 'node:path';
import { projectRoot } from '../../../shared-protocol/project.js';
import { writeWholeFile } from '../../files/write-file.js';
import { jsonText } from '../../json-text.js';
import { fileKinds, jsonSchemaFor } from './json-schemas.js';

for (const kind of fileKinds)
  await writeWholeFile(
    join(projectRoot, 'dist', `${kind}.schema.json`),
    `${jsonText(jsonSchemaFor(kind), 2)}\n`,
    { over: true },
  );
