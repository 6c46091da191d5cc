/** Compares what is written for ever with frozen-formats.json (--check), or adds to that file what is new. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../project.js';
import { changedFormats, describeFormats, type Formats, newFormats } from './frozen-formats.js';

const NAME = 'shared-protocol/frozen-formats.json';
const path = join(projectRoot, NAME);
const held = JSON.parse(readFileSync(path, 'utf8')) as Formats;
const now = describeFormats();
const changed = changedFormats(held, now);
const added = newFormats(held, now);

for (const change of changed)
  console.error(`${NAME}: ${change}: flashes and logs that are there could not be read`);
if (changed.length > 0) process.exitCode = 1;
else if (process.argv.includes('--check')) {
  for (const name of added) console.error(`${NAME}: ${name} is new: 'npm run freeze' adds it, for ever`);
  process.exitCode = added.length > 0 ? 1 : 0;
} else {
  const grown = { ...held, ...Object.fromEntries(added.map((name) => [name, now[name]!])) };
  writeFileSync(path, `${JSON.stringify(grown, undefined, 2)}\n`);
}
