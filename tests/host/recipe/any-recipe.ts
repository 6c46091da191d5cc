import fc from 'fast-check';
import type { Recipe } from '../../../host/recipe/index.js';
import { limits } from '../../../shared-protocol/limits.js';

/** Whole 1/120 stops, and what came of a time. */
function offset(min120: number, max120: number): fc.Arbitrary<number> {
  const parts = limits.fineParts;
  return fc.oneof(
    fc.integer({ min: min120, max: max120 }),
    fc.integer({ min: min120 * parts, max: max120 * parts }).map((stops3M) => stops3M / parts),
  );
}

/** Recipes that can be planned: long bases, mild dodges. */
export function anyRecipe(): fc.Arbitrary<Recipe> {
  const label = fc.string({ minLength: 1, maxLength: 16, unit: 'grapheme-ascii' });
  const dodge = fc.record({ label, stops120: offset(-30, -6) });
  const pass = fc.record({
    kind: fc.constantFrom('base' as const, 'burn' as const),
    label,
    filter: fc.constantFrom('', '00', '2', '3 1/2'),
    stops120: offset(60, 240),
    dodges: fc.array(dodge, { maxLength: 2 }),
  });
  return fc.record({
    name: fc.constantFrom('boathouse', 'jetty-2'),
    title: fc.string({ minLength: 1, maxLength: 24, unit: 'grapheme-ascii' }),
    negative: fc.string({ maxLength: 24, unit: 'grapheme-ascii' }),
    paper: fc.constantFrom('', 'fibre, gloss'),
    version: fc.integer({ min: 0, max: 0xffff }),
    aperture10: fc.constantFrom(0, 28, 56, 80, 110),
    magnification1000: fc.oneof(fc.constant(0), fc.integer({ min: 100, max: 60_000 })),
    columnHeightMm: fc.constant(0),
    focalLengthMm: fc.constant(0),
    dryDown10: fc.integer({ min: 0, max: 150 }),
    baseMs: fc.integer({ min: 5_000, max: 60_000 }),
    passes: fc.array(pass, { minLength: 1, maxLength: limits.recipePasses }),
    notes: fc.constant(''),
    history: fc.constant([]),
  });
}
