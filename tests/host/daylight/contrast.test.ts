import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isoPoints } from '../../../host/darkroom/paper/iso-6846.js';
import { commonPaper, Paper } from '../../../host/darkroom/paper/paper.js';
import {
  baseAfterContrast,
  ContrastError,
  contrastAdvice,
  contrastFromStrip,
  neededRange,
} from '../../../host/daylight/contrast/contrast.js';
import { neededRangeFromDensities } from '../../../host/daylight/contrast/densitometer.js';
import {
  gradeForRange,
  gradeTableSchema,
  standardGrades,
} from '../../../host/daylight/contrast/grade-table.js';
import { commonFilterTable, type FilterTable } from '../../../host/daylight/filters/filter-table.js';

const seed = 20270305;
const tables = { grades: standardGrades, filters: commonFilterTable };

describe('contrast from one strip', () => {
  // Source: derived from t = H 10^D / E at both ends (the derivation stands beside the function); computed.
  it.each([
    [110, 12, 12, 110],
    [110, 8, 16, 79.9],
    [130, 5, 10, 99.9],
    [110, 16, 8, 140.1],
  ])(
    'on paper of R%d, highlights right at %d s and shadows at %d s need R%d',
    (rangeR, highlight, shadow, neededR) => {
      expect(neededRange({ rangeR, highlightMs: highlight * 1000, shadowMs: shadow * 1000 })).toBeCloseTo(
        neededR,
        1,
      );
    },
  );

  it('calls for softer paper when the highlights take longer, for harder when the shadows do', () => {
    const softer = contrastFromStrip({ rangeR: 110, highlightMs: 16_000, shadowMs: 8000 }, tables);
    const harder = contrastFromStrip({ rangeR: 110, highlightMs: 8000, shadowMs: 16_000 }, tables);
    expect([softer.grade.grade, softer.filter?.filter]).toEqual(['0', '0']);
    expect([harder.grade.grade, harder.filter?.filter]).toEqual(['4', '3 1/2']);
  });

  it('leaves the contrast alone where the times agree within a strip’s accuracy', () => {
    const advice = contrastFromStrip({ rangeR: 110, highlightMs: 12_000, shadowMs: 12_500 }, tables);
    expect(advice.cautions.map(({ kind }) => kind)).toEqual(['small-difference']);
  });

  it('warns outside the grades, and of a filter that is not near', () => {
    expect(contrastAdvice(185, tables).cautions[0]!.text).toMatch(/softer than any grade.*burn them in/);
    expect(contrastAdvice(33, tables).cautions[0]!.text).toMatch(/harder than any grade/);
    const few = { ...tables, filters: { ...tables.filters, filters: tables.filters.filters.slice(0, 3) } };
    expect(contrastAdvice(60, few).cautions.map(({ kind }) => kind)).toEqual(['filter-far']);
    expect(contrastAdvice(108, tables).cautions).toEqual([]);
  });

  it.each([
    ['range', { rangeR: 20, highlightMs: 1, shadowMs: 1 }],
    ['highlight', { rangeR: 110, highlightMs: 0, shadowMs: 1 }],
    ['shadow', { rangeR: 110, highlightMs: 1000, shadowMs: Number.NaN }],
    ['shadow', { rangeR: 110, highlightMs: 1000, shadowMs: 60_000 }],
    ['highlight', { rangeR: 50, highlightMs: 1000, shadowMs: 4000 }],
  ])('refuses nonsense and names the %s', (field, reading) => {
    expect(() => neededRange(reading)).toThrow(ContrastError);
    expect(() => neededRange(reading)).toThrow(expect.objectContaining({ field }));
  });

  it('is right in the virtual darkroom: strip, advice, then one print with both ends where they should be', () => {
    // A paper whose filters all have one ISO speed, so that factor 1 holds the middle exactly.
    const rangesR = { '1': 130, '2': 110, '3': 90, '4': 75 };
    const filters = Object.fromEntries(
      Object.entries(rangesR).map(([filter, rangeR]) => [filter, { speedP: 200, rangeR }]),
    );
    const paper = new Paper({ ...commonPaper, baseDensity: 0.05, maximumDensity: 2.05, filters });
    const table: FilterTable = {
      name: 'measured',
      toneHeld: 'middle',
      filters: Object.entries(rangesR).map(([filter, rangeR]) => ({ filter, factor: 1, rangeR })),
    };
    const darkest = 0.05 + isoPoints.highestNetShare * 2;
    const lightest = 0.05 + isoPoints.lowestNetDensity;
    for (const [to, rangeR] of Object.entries(rangesR)) {
      // A negative that this filter prints exactly, tried first on filter 2.
      const thin = 0.3;
      const dense = thin + rangeR / 100;
      const timeFor = (density: number, wanted: number) => timeToReach(paper, '2', density, wanted);
      const reading = {
        rangeR: 110,
        highlightMs: timeFor(dense, lightest),
        shadowMs: timeFor(thin, darkest),
      };
      const advice = contrastFromStrip(reading, { grades: standardGrades, filters: table });
      expect(advice.neededR).toBeCloseTo(rangeR, 0);
      expect(advice.filter?.filter).toBe(to);
      const baseMs = baseAfterContrast(reading, table, '2', to);
      expect(paper.densityAt(to, Math.log10(baseMs / 1000) - dense)).toBeCloseTo(lightest, 1);
      expect(paper.densityAt(to, Math.log10(baseMs / 1000) - thin)).toBeCloseTo(darkest, 1);
    }
  });
});

/** By bisection, the time in milliseconds at 1 lux under `negativeDensity` that gives `wanted` on the paper. */
function timeToReach(paper: Paper, filter: string, negativeDensity: number, wanted: number): number {
  let low = -3;
  let high = 6;
  for (let round = 0; round < 60; round++) {
    const middle = (low + high) / 2;
    if (paper.densityAt(filter, middle - negativeDensity) < wanted) low = middle;
    else high = middle;
  }
  return 10 ** low * 1000;
}

describe('the grade table', () => {
  // Source: outer limits 0.35 and 1.70, ANSI PH2.2-1966 and its 1978 draft in the Focal Encyclopedia of
  // Photography, p. 679; 1.05 as the middle of grade 2, a forum's textbook quotation; inner edges from memory.
  it.each([
    [155, '0'],
    [125, '1'],
    [105, '2'],
    [90, '3'],
    [72, '4'],
    [58, '5'],
    [42, '6'],
  ])('puts R%d into grade %s', (rangeR, grade) => {
    expect(gradeForRange(standardGrades, rangeR)?.grade).toBe(grade);
  });

  it('gives an edge to the softer grade, and nothing beyond the ends', () => {
    expect(gradeForRange(standardGrades, 95)?.grade).toBe('2');
    expect(gradeForRange(standardGrades, 115)?.grade).toBe('1');
    expect(gradeForRange(standardGrades, 35)?.grade).toBe('6');
    expect(gradeForRange(standardGrades, 175)).toBeUndefined();
    // ANSI PH2.2-1966 goes to 1.70 (Focal Encyclopedia, p. 679), so its end is in.
    expect(gradeForRange(standardGrades, 170)?.grade).toBe('0');
    expect(gradeForRange(standardGrades, 34.9)).toBeUndefined();
  });

  it('has no gaps from its hardest to its softest grade', () => {
    fc.assert(
      fc.property(fc.double({ min: 35, max: 169.99, noNaN: true }), (rangeR) => {
        expect(gradeForRange(standardGrades, rangeR)).toBeDefined();
      }),
      { seed },
    );
  });

  it('is the printer’s to change, but not into nonsense', () => {
    expect(gradeTableSchema.safeParse(standardGrades).success).toBe(true);
    expect(gradeTableSchema.safeParse([{ grade: '2', fromR: 100, toR: 90 }]).success).toBe(false);
  });

  // Source: log exposure range to exposure ratio and stops, computed: 10^L and L / log10 2.
  it.each([
    [50, 3.162, 1.661],
    [110, 12.589, 3.654],
    [180, 63.096, 5.979],
  ])('R%d spans an exposure ratio of %d, or %d stops', (rangeR, ratio, stops) => {
    expect(10 ** (rangeR / 100)).toBeCloseTo(ratio, 3);
    expect(rangeR / 100 / Math.log10(2)).toBeCloseTo(stops, 3);
  });
});

describe('contrast from a densitometer', () => {
  const silver = { light: 'diffusion', image: 'silver' } as const;

  // Source: effective density range = log exposure range of the paper (ISO 6846, introduction).
  it('needs the paper range that the negative has', () => {
    expect(neededRangeFromDensities({ ...silver, highlightDensity: 1.3, shadowDensity: 0.25 })).toBeCloseTo(
      105,
      9,
    );
  });

  // Source: 0.80 with condensers prints as 1.05 in diffuse light, from memory; none for dyes: Dickerson and
  // Zawadzki, 'Condenser or Diffusion Enlarger?', Photo Techniques.
  it('counts a silver negative as longer under condensers, a dye negative not', () => {
    const densities = { highlightDensity: 1.05, shadowDensity: 0.25, light: 'condenser' } as const;
    expect(neededRangeFromDensities({ ...densities, image: 'silver' })).toBeCloseTo(106.7, 1);
    expect(neededRangeFromDensities({ ...densities, image: 'dye' })).toBeCloseTo(80, 9);
  });

  it('counts a negative as shorter where stray light falls on everything', () => {
    const range = neededRangeFromDensities({
      ...silver,
      highlightDensity: 1.3,
      shadowDensity: 0.3,
      flareShare: 0.02,
    });
    // (1 + 0.02) / (0.1 + 0.02) = 8.5; log10 = 0.9294.
    expect(range).toBeCloseTo(92.94, 2);
  });

  it('refuses densities that are swapped, alike or none', () => {
    expect(() => neededRangeFromDensities({ ...silver, highlightDensity: 0.2, shadowDensity: 1.2 })).toThrow(
      /swapped/,
    );
    expect(() => neededRangeFromDensities({ ...silver, highlightDensity: 9, shadowDensity: 1.2 })).toThrow(
      ContrastError,
    );
    expect(() =>
      neededRangeFromDensities({ ...silver, highlightDensity: 1, shadowDensity: 0.2, flareShare: 1 }),
    ).toThrow(/flare/);
  });
});

describe('a negative beyond graded papers', () => {
  const advised = (neededR: number) => contrastAdvice(neededR, tables);

  // Sources: grades to 1.70, ANSI PH2.2-1966; filter 00 R170, the table of the demonstration. 2.05 - 0.30 is R175: filter 00
  // was named and, in the same breath, R175 called softer than anything there is.
  it('is sent to the filter that reaches it, and to burning in only where none does', () => {
    const reached = advised(175);
    expect(reached.filter?.filter).toBe('00');
    expect(reached.cautions.map(({ text }) => text)).toEqual([
      'R175 is softer than any grade in the table (to R170); variable-contrast paper comes to it through filter 00 (R170)',
    ]);
    expect(advised(205).cautions[0]!.text).toMatch(/to R170\), and than any filter: let the highlights go/);
    expect(advised(25).cautions[0]!.text).toMatch(
      /from R35\), and than any filter: the print will stay flat/,
    );
    expect(advised(170).cautions[0]?.kind).not.toBe('outside-table');
  });
});

// 1.45 - 0.30 is 1.15, the edge of grades 1 and 2 and half-way between filters 1 1/2 (R120) and 2 (R110): the softer, as
// for all edges. The logarithm's last digit had decided for the filter.
it('a range half-way between two goes to the softer, grade and filter alike', () => {
  const read = { highlightDensity: 1.45, shadowDensity: 0.3, light: 'diffusion', image: 'silver' } as const;
  const { grade, filter } = contrastAdvice(neededRangeFromDensities(read), tables);
  expect([grade.grade, filter?.filter]).toEqual(['1', '1 1/2']);
});
