import { describe, expect, it } from 'vitest';
import { EveningBench } from './evening-bench.js';

/** What the display shows of a label, as the board says it to a watching laptop. */
function shown(bench: EveningBench, label: string): string {
  const pass = { kind: 'base', label, filter: '', stops120: 0 } as const;
  bench.print({ name: 'letters', baseMs: 10_000, passes: [pass] });
  bench.push();
  const row = bench.panel[2]!;
  bench.hold();
  return row;
}

const from = (first: number, last: number) =>
  Array.from({ length: last - first + 1 }, (_, at) => String.fromCodePoint(first + at));
/** As many as a label has room for in UTF-8. */
const labelsOf = (letters: readonly string[]) =>
  Array.from({ length: Math.ceil(letters.length / 8) }, (_, at) =>
    letters.slice(8 * at, 8 * at + 8).join(''),
  );

/** Source: Unicode's canonical decomposition, a letter and the marks that combine with it. */
const plain = (letter: string) => letter.normalize('NFD').replace(/\p{M}/gu, '');

describe('what the display lacks', () => {
  it('is shown as the letter that it was made of, from À to ſ, and never as a question mark', () => {
    const bench = new EveningBench();
    bench.greet();
    bench.focusAndStopDown();
    const letters = from(0xc0, 0x17f);
    const rows = labelsOf(letters).map((label) => shown(bench, label).padEnd(8));
    const seen = [...rows.join('')];
    expect(seen).toHaveLength(letters.length);
    for (const [at, letter] of letters.entries()) {
      const is = plain(letter);
      if (/^[A-Za-z]$/.test(is)) expect(`${letter} as ${seen[at]}`).toBe(`${letter} as ${is}`);
      else expect(seen[at], letter).not.toBe('?');
    }
  });

  it('is nothing of ASCII, which is shown as it is', () => {
    const bench = new EveningBench();
    bench.greet();
    bench.focusAndStopDown();
    const labels = labelsOf(from(0x21, 0x7e));
    expect(labels.map((label) => shown(bench, label))).toEqual(labels);
  });

  it('is a letter alone where its accents stand behind it', () => {
    const bench = new EveningBench();
    bench.greet();
    bench.focusAndStopDown();
    expect(shown(bench, 'e\u0300e\u036f.')).toBe('ee.');
    expect(shown(bench, 'a\u02ffb\u0370c')).toBe('a?b?c');
  });

  // Source: what the characters are called in Unicode; a space that does not break is a space.
  it.each([
    ['a dash', '\u2010\u2011\u2013\u2014\u2212', '-----'],
    ['a single quote', '\u2018\u2019', "''"],
    ['a double quote', '\u201c\u201d\u201e', '"""'],
    ['a space that does not break', 'a\u00a0b', 'a b'],
    ['none of these', '\u2012\u2015\u201a\u201f\u00a1', '?????'],
    ['of no alphabet here', '\u0180\u9854\u{1f600}', '???'],
  ])('is %s, and shown as such', (_, label, row) => {
    const bench = new EveningBench();
    bench.greet();
    bench.focusAndStopDown();
    expect(shown(bench, label)).toBe(row);
  });
});
