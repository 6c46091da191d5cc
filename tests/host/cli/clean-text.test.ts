import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cleanText } from '../../../host/cli/terminal/clean-text.js';

const steering = /[\p{Cc}\p{Cs}\u202a-\u202e\u2066-\u2069]/u;

describe('text from elsewhere, on its way to the terminal', () => {
  it('is left alone when it is what people write', () => {
    for (const text of ['sky', 'Gesicht, links', 'små båtar', '顔', 'e\u0301', '👩‍🔧', '-1/3']) {
      expect(cleanText(text)).toBe(text);
    }
  });

  it('cannot steer the terminal', () => {
    expect(cleanText('\u001b[2Jsky\u0007')).toBe('\ufffd[2Jsky\ufffd');
    expect(cleanText('a\rb\nc\td')).toBe('a\ufffdb\ufffdc\ufffdd');
    expect(cleanText('\u009b31m')).toBe('\ufffd31m');
  });

  // Unicode Standard Annex 9, section 2: embeddings, overrides, isolates and marks.
  it('cannot turn the reading direction', () => {
    for (const code of [
      '\u202a',
      '\u202b',
      '\u202c',
      '\u202d',
      '\u202e',
      '\u2066',
      '\u2067',
      '\u2068',
      '\u2069',
      '\u200e',
      '\u200f',
      '\u061c',
    ])
      expect(cleanText(`a${code}b`)).toBe('a\ufffdb');
  });

  it('keeps line feeds only where lines are meant', () => {
    expect(cleanText('one\ntwo', 'lines')).toBe('one\ntwo');
    expect(cleanText('one\r\ntwo', 'lines')).toBe('one\ufffd\ntwo');
  });

  it('holds no control character afterwards, whatever it was', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 0x10_ffff })), (codes) => {
        const text = String.fromCodePoint(...codes);
        expect(steering.test(cleanText(text))).toBe(false);
      }),
    );
  });
});
