/** Build step: the JSON Schemas of the files that people write, for editors, to dist/. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../shared-protocol/project.js';
import { fileKinds, jsonSchemaFor } from './json-schemas.js';

for (const kind of fileKinds)
  writeFileSync(
    join(projectRoot, 'dist', `${kind}.schema.json`),
    `${JSON.stringify(jsonSchemaFor(kind), undefined, 2)}\n`,
  );
