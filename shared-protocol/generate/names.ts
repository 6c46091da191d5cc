/** `recipe-pass` -> `RecipePass`. */
export function pascal(words: string): string {
  return words.replace(/(?:^|-)([a-z0-9])/g, (_, letter: string) => letter.toUpperCase());
}

/** `recipe-pass` -> `recipePass`. */
export function camel(words: string): string {
  const name = pascal(words);
  return name[0]!.toLowerCase() + name.slice(1);
}

/** `recipe-pass`, `RecipePass` or `recipePass` -> `RECIPE_PASS`. */
export function constant(words: string): string {
  return words
    .replace(/([a-z0-9])([A-Z])/g, '$1_$2')
    .replaceAll('-', '_')
    .toUpperCase();
}
