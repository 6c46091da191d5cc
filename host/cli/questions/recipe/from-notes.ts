import { seconds } from '../../../figures.js';
import { formatStops, formatTime, type Recipe } from '../../../recipe/index.js';
import { type OldNotes, readOldNotes } from '../../../recipe/old-notes.js';
import { usualRecipe } from '../../../recipe/usual-recipe.js';
import { readOption } from '../../read-options.js';

/** Of notes, as the recipe file's schema has it. */
const MOST_CHARS = 4000;

/** What to start from, and how it came about. @throws UsageError */
export function recipeFromNotes(option: string, text: string): { recipe: Recipe; words: string } {
  const notes = readOption(option, text, readOldNotes);
  const { baseMs, aperture10, passes } = notes;
  const recipe = {
    ...usualRecipe,
    baseMs,
    passes,
    aperture10,
    notes: `From old notes: ${text}`.slice(0, MOST_CHARS),
  };
  return { recipe, words: wordsOf(notes) };
}

function wordsOf({ baseMs, times }: OldNotes): string {
  const base = formatTime(baseMs);
  return [
    `base ${base}`,
    ...times.map(({ kind, label, wantedMs, stops120, doseMs }) => {
      const sign = kind === 'dodge' ? '-' : '+';
      return `${kind} '${label}' ${formatTime(wantedMs)}: log2(1 ${sign} ${formatTime(wantedMs)} / ${base}) = ${formatStops(stops120)} stop, which gives ${seconds(doseMs)}`;
    }),
  ].join('\n');
}
