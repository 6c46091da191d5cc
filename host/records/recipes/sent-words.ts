import type { Sent } from './send-recipe.js';

/** What became of a recipe that was sent, and why it bears another number than it did, a sentence each. */
export function sentWords({ recipe, isThere, insteadOf }: Sent, boardId: string): string[] {
  const there = `'${recipe.name}' version ${recipe.version} is on board ${boardId}`;
  const renumbered =
    insteadOf === undefined
      ? []
      : [
          `It was changed since it was sent last (${insteadOf.join('; ')}), so it is now version ${recipe.version}.`,
        ];
  return [...renumbered, isThere ? `${there} already.` : `${there}.`];
}
