import { describe, expect, it } from 'vitest';
import { EveningBench } from './evening-bench.js';

// The panel's figures against what the host's own arithmetic makes of the same numbers.

const COLUMNS = 20;

interface Strip {
  readonly firstMs?: number;
  readonly stepStops120?: number;
  readonly patches?: number;
  readonly filter?: string;
}

/** A board at rest whose strip a laptop sets again and again. */
class StripBoard {
  readonly bench = new EveningBench();
  constructor() {
    this.bench.greet();
  }
  set({ firstMs = 2000, stepStops120 = 1, patches = 2, filter = '' }: Strip): string[] {
    const [answer] = this.bench.ask({
      ...{ type: 'strip-set', id: 0, firstMs, stepStops120, stepMs: 0, patches },
      ...{ cover: 'separate', filter },
    });
    expect(answer).toMatchObject({ type: 'ok' });
    return this.bench.panel;
  }
}

/** Half up, as everywhere: toFixed takes what a binary fraction comes to. */
const rounded = (thousandths: number, digits: number) => {
  const unit = 10 ** (3 - digits);
  const whole = Math.floor((thousandths + unit / 2) / unit).toString();
  if (digits === 0) return whole;
  const long = whole.padStart(digits + 1, '0');
  return `${long.slice(0, -digits)}.${long.slice(-digits)}`;
};
/** Four figures, or as many as there are before the point. */
const seconds = (ms: number) => `${rounded(ms, ms < 100_000 ? 2 : ms < 1_000_000 ? 1 : 0)} s`;

const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));
function fraction(parts: number): string {
  const whole = Math.floor(parts / 120);
  const rest = parts % 120;
  const common = divisor(120, rest);
  const piece = rest === 0 ? '' : `${rest / common}/${120 / common}`;
  return [whole === 0 && rest !== 0 ? '' : `${whole}`, piece].filter((word) => word !== '').join(' ');
}

describe('at rest', () => {
  it('a strip says its patches and its step in whole words as far as they fit', () => {
    const board = new StripBoard();
    for (let step = 1; step <= 1200; step += step < 240 ? 1 : 37)
      for (const patches of [2, 6, 12]) {
        if (step * (patches - 1) > 1200) continue;
        const words = `${patches} patches, ${fraction(step)}`;
        const row = words.length + ' st'.length <= COLUMNS ? `${words} st` : words.slice(0, COLUMNS);
        expect(board.set({ stepStops120: step, patches })[2]).toBe(row);
      }
  });

  it('a first time has its seconds to four figures, rounded half up', () => {
    const board = new StripBoard();
    const times = [1234, 1235, 9994, 9995, 99_994, 99_995, 100_000, 100_049, 100_050, 999_949, 999_950];
    for (const firstMs of [...times, 1_000_000, 1_000_499, 1_000_500, 3_000_000])
      expect(board.set({ firstMs })[1]).toBe(`${seconds(firstMs)} first`);
  });

  it('a filter stands at the right edge, with the word before it where there is room', () => {
    const board = new StripBoard();
    for (const firstMs of [2000, 20_000, 200_000, 2_000_000])
      for (let length = 1; length <= 8; length++) {
        const filter = 'Y130 M45'.slice(0, length).trim();
        const left = seconds(firstMs);
        const named = `filter ${filter}`;
        const right = left.length + 1 + named.length <= COLUMNS ? named : filter;
        expect(board.set({ firstMs, filter })[1]).toBe(left + right.padStart(COLUMNS - left.length));
      }
  });
});

it('every letter that the display has is shown as it is, and every other as the one that it comes from', () => {
  const bench = new EveningBench();
  bench.greet();
  const shown = (label: string) => {
    bench.print({
      ...{ name: 'letters', baseMs: 5000 },
      passes: [{ kind: 'base', label, filter: '', stops120: 0 }],
    });
    bench.tap();
    const [, , row] = bench.panel;
    bench.hold();
    return row;
  };
  bench.focusAndStopDown();
  const printable = Array.from({ length: 0x7f - 0x20 }, (_, at) => String.fromCharCode(0x20 + at)).join('');
  for (let at = 0; at < printable.length; at += 14) {
    const label = `a${printable.slice(at, at + 14)}b`;
    expect(shown(label)).toBe(label);
  }
  // Unicode's own decomposition says which letter an accent is on.
  const accented = Array.from({ length: 0x180 - 0xc0 }, (_, at) => String.fromCodePoint(0xc0 + at))
    .filter((letter) => /^[A-Za-z]\p{M}$/u.test(letter.normalize('NFD')))
    .join('');
  expect(accented.length).toBeGreaterThan(100);
  for (let at = 0; at < accented.length; at += 10) {
    const label = accented.slice(at, at + 10);
    expect(shown(label)).toBe(label.normalize('NFD').replaceAll(/\p{M}/gu, ''));
  }
});

describe('while light falls', () => {
  it('the seconds that are left run down in tenths, rounded half up', () => {
    const bench = new EveningBench();
    bench.greet();
    bench.focusAndStopDown();
    for (const baseMs of [5000, 12_349, 12_350, 200_049, 200_050, 999_949, 3_000_049]) {
      bench.ask({
        ...{ type: 'strip-set', id: 0, firstMs: baseMs, stepStops120: 1, stepMs: 0, patches: 2 },
        ...{ cover: 'separate', filter: '' },
      });
      bench.tap();
      bench.tap();
      for (const gone of [0, 1, 3]) {
        bench.board.advanceUs(bench.board.lampEdges.at(-1)!.atUs + gone * 1_000_000 + 1 - bench.board.nowUs);
        expect(bench.panel[1]).toBe(`${rounded(baseMs - gone * 1000, 1)} s`);
      }
      bench.tap();
      bench.hold();
      bench.turn(1);
    }
  });
});
