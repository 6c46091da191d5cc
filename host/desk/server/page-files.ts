import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { coreUrl } from '../../core/load-core.js';
import { readWholeFile } from '../../files/read-file.js';

/** One file of the page, as it goes out. */
export interface PageFile {
  readonly name: string;
  readonly type: string;
  readonly bytes: Uint8Array;
}

/** All that the page has: nothing else on this computer is ever sent. */
const types = {
  'index.html': 'text/html; charset=utf-8',
  'desk.css': 'text/css; charset=utf-8',
  'desk.js': 'text/javascript; charset=utf-8',
  'picture.js': 'text/javascript; charset=utf-8',
  'core.js': 'text/javascript; charset=utf-8',
} as const;

/** None of them comes near it. */
const MOST_FILE_BYTES = 2_000_000;

/** Where the build leaves them: beside the compiled library, as the core is. */
const folder = fileURLToPath(new URL('library/desk/', coreUrl));

/** The page's files. @throws FileAccessError where the package is not whole */
export function readPageFiles(): Promise<PageFile[]> {
  return Promise.all(
    Object.entries(types).map(async ([name, type]) => ({
      name,
      type,
      bytes: await readWholeFile(join(folder, name), MOST_FILE_BYTES),
    })),
  );
}
