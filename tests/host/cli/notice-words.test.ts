import { describe, expect, it } from 'vitest';
import type { Notice } from '../../../host/board/link/notices.js';
import { noticeWords } from '../../../host/board/words/notice-words.js';
import { runState } from '../../../shared-protocol/schema.js';

type Moved = Extract<Notice, { type: 'moved' }>;
const moved = (fields: Partial<Moved>): string =>
  noticeWords({
    ...{
      type: 'moved',
      id: 0,
      uptimeMs: 3_723_000,
      state: 'rest',
      pass: 0,
      piece: 0,
      label: '',
      remainingMs: 0,
    },
    ...fields,
  });

describe('a live event', () => {
  it('is a line of words', () => {
    expect(moved({ state: 'exposing', pass: 2, piece: 1, label: 'sky', remainingMs: 8522 })).toBe(
      '1:02:03  exposing, pass 2 sky, 8.522 s to give',
    );
    expect(moved({ state: 'timing', label: 'developer', remainingMs: 90_000 })).toBe(
      '1:02:03  timing developer, 90.000 s to go',
    );
    expect(moved({ state: 'step-ready' })).toBe('1:02:03  waiting to start');
    expect(moved({ state: 'choosing' })).toBe('1:02:03  reading what is on the paper');
    expect(noticeWords({ type: 'lamp', id: 0, uptimeMs: 1000, on: false, onUs: 4_060_000 })).toBe(
      '0:00:01  lamp off after 4.060 s',
    );
  });

  it('has words for every state, each its own', () => {
    const words = runState.options.map((state) => moved({ state }));
    expect(new Set(words).size).toBe(runState.options.length);
    for (const line of words) expect(line).toMatch(/^1:02:03 {2}[a-z ]+$/);
  });
});
