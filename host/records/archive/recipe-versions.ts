import { isSameOnBoard } from '../../recipe/board-recipe.js';
import type { KeptRecipe, Remark } from './archive.js';

/** A version of a recipe as it was printed, and what was thought of it. */
export interface ListedVersion extends KeptRecipe {
  readonly remarks: readonly Remark[];
}

interface Group {
  latest: KeptRecipe;
  readonly contents: Set<string>;
}

/**
 * One of each version, the latest sending of it, by name and then version; those whose negative has `words`. Where earlier
 * programs let two different prints bear one number, both are there.
 */
export function listedVersions(
  kept: readonly KeptRecipe[],
  remarks: readonly Remark[],
  words: string,
): ListedVersion[] {
  const wanted = words.toLowerCase();
  return [...groupsOf(kept).values()]
    .flatMap((groups) => groups.map((group) => listed(group, groups.at(-1) === group, remarks)))
    .filter(({ recipe }) => recipe.negative.toLowerCase().includes(wanted))
    .sort(
      ({ recipe: one }, { recipe: other }) =>
        one.name.localeCompare(other.name, 'en') || one.version - other.version,
    );
}

/** By name and version; the latest content is the last of its group. */
function groupsOf(kept: readonly KeptRecipe[]): Map<string, Group[]> {
  const versions = new Map<string, Group[]>();
  for (const one of kept) {
    const key = `${one.recipe.name} ${one.recipe.version}`;
    const groups = versions.get(key) ?? [];
    const same = groups.find(({ latest }) => isSameOnBoard(latest.recipe, one.recipe));
    if (same === undefined) groups.push({ latest: one, contents: new Set([one.content]) });
    else {
      same.latest = one;
      same.contents.add(one.content);
    }
    versions.set(key, groups);
  }
  return versions;
}

/** A remark that points to no content is about the latest. */
function listed({ latest, contents }: Group, isLast: boolean, remarks: readonly Remark[]): ListedVersion {
  const { name, version } = latest.recipe;
  const about = (remark: Remark) => (remark.content === null ? isLast : contents.has(remark.content));
  return {
    ...latest,
    remarks: remarks.filter((remark) => remark.name === name && remark.version === version && about(remark)),
  };
}
