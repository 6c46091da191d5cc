/** What is done to the order of work, each as a recipe of its own. */
import type { Recipe, RecipeDodge, RecipePass } from '../../../recipe/index.js';
import type { Place } from './place.js';

/** What a new area is until it is said otherwise: common practice, no source. */
const NEW_BURN120 = 60;
const NEW_DODGE120 = -40;

export function withPass(recipe: Recipe, at: number, change: Partial<RecipePass>): Recipe {
  return { ...recipe, passes: recipe.passes.with(at, { ...recipe.passes[at]!, ...change }) };
}

export function withDodge(recipe: Recipe, { pass, dodge }: Place, change: Partial<RecipeDodge>): Recipe {
  const { dodges } = recipe.passes[pass]!;
  return withPass(recipe, pass, { dodges: dodges.with(dodge!, { ...dodges[dodge!]!, ...change }) });
}

export function withNewPass(recipe: Recipe, kind: 'base' | 'burn'): Recipe {
  const { filter } = recipe.passes.at(-1) ?? { filter: '' };
  const labels = recipe.passes.map(({ label }) => label);
  const pass: RecipePass =
    kind === 'base'
      ? { kind, label: freeLabel('base', labels), filter, stops120: 0, dodges: [] }
      : { kind, label: freeLabel('area', labels), filter, stops120: NEW_BURN120, dodges: [] };
  return { ...recipe, passes: [...recipe.passes, pass] };
}

export function withNewDodge(recipe: Recipe, at: number): Recipe {
  const { dodges } = recipe.passes[at]!;
  const label = freeLabel(
    'area',
    recipe.passes.flatMap((pass) => [pass.label, ...pass.dodges.map((dodge) => dodge.label)]),
  );
  return withPass(recipe, at, { dodges: [...dodges, { label, stops120: NEW_DODGE120 }] });
}

/** 'area', or 'area 2' where that is there. */
function freeLabel(word: string, taken: readonly string[]): string {
  let label = word;
  for (let number = 2; taken.includes(label); number++) label = `${word} ${number}`;
  return label;
}

export function without(recipe: Recipe, { pass, dodge }: Place): Recipe {
  if (dodge === undefined) return { ...recipe, passes: recipe.passes.toSpliced(pass, 1) };
  return withPass(recipe, pass, { dodges: recipe.passes[pass]!.dodges.toSpliced(dodge, 1) });
}

/** A pass takes the other's place, and a dodge another's, or the end of a pass. */
export function moved(recipe: Recipe, from: Place, to: Place): Recipe {
  if (from.dodge === undefined) {
    const pass = recipe.passes[from.pass]!;
    return { ...recipe, passes: recipe.passes.toSpliced(from.pass, 1).toSpliced(to.pass, 0, pass) };
  }
  const dodge = recipe.passes[from.pass]!.dodges[from.dodge]!;
  const rest = without(recipe, from);
  const { dodges } = rest.passes[to.pass]!;
  return withPass(rest, to.pass, { dodges: dodges.toSpliced(to.dodge ?? dodges.length, 0, dodge) });
}

/** One place up (-1) or down (1); undefined at either end. A dodge at the end of a pass goes on into the next. */
export function nextPlace({ passes }: Recipe, { pass, dodge }: Place, by: -1 | 1): Place | undefined {
  if (dodge === undefined) return passes[pass + by] && { pass: pass + by };
  const next = dodge + by;
  if (next >= 0 && next < passes[pass]!.dodges.length) return { pass, dodge: next };
  const other = passes[pass + by];
  return other && { pass: pass + by, dodge: by > 0 ? 0 : other.dodges.length };
}
