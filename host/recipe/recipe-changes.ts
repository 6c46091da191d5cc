import { filmTieWords } from './film-tie.js';
import { framingWords } from './framing.js';
import type { Recipe } from './recipe.js';
import { changed, recipeDifferences, told } from './recipe-differences.js';

/**
 * All that a person changed between two versions of a recipe, a line for each: what a print shows, and what stays on the
 * laptop. Version and history, which follow from a change, and shapes, which no line can show, are left out.
 */
export function changesBetween(before: Recipe, after: Recipe): string[] {
  const millimetres = (mm: number) => `${mm} mm`;
  return [
    ...changed('name', before.name, after.name),
    ...recipeDifferences(before, after),
    ...(['columnHeightMm', 'focalLengthMm'] as const).flatMap((field) =>
      changed(fieldWords[field], told(before[field], millimetres), told(after[field], millimetres)),
    ),
    ...changed('framing', framingWords(before.framing), framingWords(after.framing)),
    ...changed('film and light', filmTieWords(before.filmTie), filmTieWords(after.filmTie)),
    ...changed('notes', before.notes || 'none', after.notes || 'none'),
  ];
}

const fieldWords = { columnHeightMm: 'column height', focalLengthMm: 'focal length' } as const;
