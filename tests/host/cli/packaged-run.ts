/** The command line as it is packed. Where the host's own sources are changed (`tests/proof/mutation/host`), theirs is put in its place. */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { run as Run } from '../../../host/cli/run.js';
import { projectRoot } from '../../../shared-protocol/project.js';

export const { run }: { run: typeof Run } = await import(
  pathToFileURL(join(projectRoot, 'dist/library/js/run.js')).href
);
