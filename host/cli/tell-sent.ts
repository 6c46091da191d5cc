import type { Sent } from '../records/recipes/send-recipe.js';
import { cleanText } from './terminal/clean-text.js';
import { remark } from './terminal/print.js';

/** Says what became of a recipe that was sent, and why it bears another number than it did. */
export function tellSent({ recipe, isThere, insteadOf }: Sent, boardId: string): void {
  const named = `'${recipe.name}' version ${recipe.version}`;
  if (insteadOf !== undefined)
    remark(
      cleanText(
        `It was changed since it was sent last (${insteadOf.join('; ')}), so it is now version ${recipe.version}.`,
      ),
    );
  remark(isThere ? `${named} is on board ${boardId} already.` : `${named} is on board ${boardId}.`);
}
