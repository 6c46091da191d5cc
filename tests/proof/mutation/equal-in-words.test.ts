import { expect, it } from 'vitest';
import { requireNoStaleWords } from './equal-in-words.js';

// Found an hour later by 'npm run mutation' alone, after a line had changed.
it('what is said of changes that make no difference is said of lines that are there', () => {
  expect(requireNoStaleWords).not.toThrow();
});
