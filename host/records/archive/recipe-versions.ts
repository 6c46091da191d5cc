import type { KeptRecipe } from './archive.js';

/** One of each version, the latest push of it, by name and then version; those whose negative has `words`. */
export function listedVersions(kept: readonly KeptRecipe[], words: string): KeptRecipe[] {
  const latest = new Map(kept.map((one) => [`${one.recipe.name} ${one.recipe.version}`, one]));
  const wanted = words.toLowerCase();
  return [...latest.values()]
    .filter(({ recipe }) => recipe.negative.toLowerCase().includes(wanted))
    .sort(
      ({ recipe: one }, { recipe: other }) =>
        one.name.localeCompare(other.name, 'en') || one.version - other.version,
    );
}
