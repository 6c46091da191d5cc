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
  const remarksOf = byVersion(remarks);
  return [...groupsOf(kept)]
    .flatMap(([key, groups]) =>
      groups.map((group) => listed(group, groups.at(-1) === group, remarksOf.get(key) ?? [])),
    )
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
    const key = keyOf(one.recipe);
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

function keyOf({ name, version }: Pick<Remark, 'name' | 'version'>): string {
  return `${name} ${version}`;
}

/** Looked through once, and not for each version anew. */
function byVersion(remarks: readonly Remark[]): Map<string, Remark[]> {
  const found = new Map<string, Remark[]>();
  for (const remark of remarks) {
    const own = found.get(keyOf(remark));
    if (own === undefined) found.set(keyOf(remark), [remark]);
    else own.push(remark);
  }
  return found;
}

/** A remark that points to no content is about the latest. */
function listed({ latest, contents }: Group, isLast: boolean, remarks: readonly Remark[]): ListedVersion {
  const about = (remark: Remark) => (remark.content === null ? isLast : contents.has(remark.content));
  return { ...latest, remarks: remarks.filter(about) };
}
