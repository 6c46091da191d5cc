import { schemaHash } from './schema-hash.js';

/** What the host says of itself. Written down at the build, so that a page needs neither a hash nor a package.json. */
export function writeVersions(version: string): string {
  return [
    '// Written by shared-protocol/generate from shared-protocol/schema.ts and package.json; not for editing.',
    '',
    '/** The one version of everything. */',
    `export const version = '${version}';`,
    '',
    '/** Eight hex digits that differ when the two sides might misread each other. */',
    `export const schemaHash = '${schemaHash}';`,
    '',
  ].join('\n');
}
