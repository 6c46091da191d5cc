/** Takes a recipe from the shelf into the active place. */
import {
  DocumentKind,
  describeDocument,
  described,
  findDocument,
  isIntact,
  readDocument,
} from '../storage/shelf';
import { StoreCode } from '../storage/store-code';
import { activeRecipe, RECIPE_BODY_BYTES, recipeLength } from './recipe';

/** True when the recipe of that name (a text) was there, whole, and is now the active one. */
export function loadRecipe(name: usize): bool {
  const document = findDocument(DocumentKind.Recipe, name);
  if (document < 0 || !isIntact(document) || !describeDocument(document)) return false;
  const length = i32(described.bodyBytes);
  if (length > RECIPE_BODY_BYTES) return false;
  memory.fill(activeRecipe, 0, RECIPE_BODY_BYTES);
  return (
    readDocument(document, 0, activeRecipe, length) == StoreCode.Done && recipeLength(activeRecipe) == length
  );
}
