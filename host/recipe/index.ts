export {
  type BoardDodge,
  type BoardPass,
  type BoardRecipe,
  fromBoardRecipe,
  isSameOnBoard,
  toBoardRecipe,
} from './board-recipe.js';
export { planProblems, readRecipe } from './read-recipe.js';
export { mostFileBytes } from './reading/json-text.js';
export { FileError, problemText, RecipeError, type RecipeProblem } from './reading/problem.js';
export type { Recipe, RecipeDodge, RecipePass } from './recipe.js';
export { partsOfRecipe, type RecipePart, RecipePartsError, recipeFromParts } from './recipe-messages.js';
export { nameFromTitle } from './recipe-name.js';
export { formatAperture10, readAperture10 } from './text/aperture-text.js';
export { formatDryDown10, readDryDown10 } from './text/dry-down-text.js';
export { formatStops, readOffset, readStops } from './text/stop-text.js';
export { formatTime, readExposure, readTime } from './text/time-text.js';
export { UnreadableText } from './text/unreadable-text.js';
export { fileFromRecipe, writeRecipe } from './write-recipe.js';
