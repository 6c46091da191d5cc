import { tmpdir } from 'node:os';
import { expect, it } from 'vitest';
import { usualArchiveFile } from '../../host/records/archive/archive-name.js';

// Records of tests once lay in the archive of whoever ran them, and one that a newer version had made failed the tests.
it('what a test keeps without naming a place lies in a folder of its own', () => {
  expect(usualArchiveFile().startsWith(tmpdir())).toBe(true);
});
