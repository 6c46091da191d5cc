/** What differs between two versions of a recipe, a line for each, such as 'sky: +3/4 to +1/2'. */
import type { Recipe, RecipeDodge, RecipePass } from './recipe.js';
import { formatAperture10 } from './text/aperture-text.js';
import { formatDryDown10 } from './text/dry-down-text.js';
import { formatStops } from './text/stop-text.js';
import { formatTime } from './text/time-text.js';

type Shown = readonly (readonly [name: string, value: string])[];

/** Version and history, which follow from a change, and shapes, which no line can show, are left out. */
export function changesBetween(before: Recipe, after: Recipe): string[] {
  return [
    ...changed(headOf(before), headOf(after)),
    ...pairsOf(before.passes, after.passes, isSamePass).flatMap(([one, other]) => passChanges(one, other)),
  ];
}

function headOf(recipe: Recipe): Shown {
  const number = (value: number) => (value === 0 ? '' : String(value));
  return [
    ['name', recipe.name],
    ['title', recipe.title],
    ['negative', recipe.negative],
    ['paper', recipe.paper],
    ['lens stop', recipe.aperture10 === 0 ? '' : formatAperture10(recipe.aperture10)],
    ['magnification', number(recipe.magnification1000 / 1000)],
    ['column height mm', number(recipe.columnHeightMm)],
    ['focal length mm', number(recipe.focalLengthMm)],
    ['dry-down', recipe.dryDown10 === 0 ? '' : formatDryDown10(recipe.dryDown10)],
    ['base', formatTime(recipe.baseMs)],
    ['notes', recipe.notes],
  ];
}

function passChanges(before: RecipePass | undefined, after: RecipePass | undefined): string[] {
  const known = (after ?? before)!;
  const inPass = known.kind === 'base' && known.label === 'base' ? '' : `${known.label}, `;
  return [
    ...changed(passShown(before, known), passShown(after, known)),
    ...pairsOf(before?.dodges ?? [], after?.dodges ?? [], isSameDodge).flatMap(([one, other]) =>
      changed(dodgeShown(one, other, inPass), dodgeShown(other, one, inPass)),
    ),
  ];
}

function passShown(pass: RecipePass | undefined, { kind, label }: RecipePass): Shown {
  return [
    [kind === 'base' ? `offset of ${label}` : label, pass ? formatStops(pass.stops120) : ''],
    [`filter of ${label}`, pass?.filter ?? ''],
  ];
}

function dodgeShown(dodge: RecipeDodge | undefined, other: RecipeDodge | undefined, inPass: string): Shown {
  return [[`${inPass}${(dodge ?? other)!.label}`, dodge ? formatStops(dodge.stops120) : '']];
}

function isSamePass(one: RecipePass, other: RecipePass): boolean {
  return one.kind === other.kind && one.label === other.label;
}

function isSameDodge(one: RecipeDodge, other: RecipeDodge): boolean {
  return one.label === other.label;
}

/** What was, and what became of it; what came new and what went have no partner. */
function pairsOf<Item>(
  before: readonly Item[],
  after: readonly Item[],
  isSame: (one: Item, other: Item) => boolean,
): [Item | undefined, Item | undefined][] {
  const left = [...before];
  const pairs = after.map((item): [Item | undefined, Item | undefined] => {
    const at = left.findIndex((each) => isSame(each, item));
    return [at < 0 ? undefined : left.splice(at, 1)[0], item];
  });
  return [...pairs, ...left.map((item): [Item | undefined, Item | undefined] => [item, undefined])];
}

function changed(before: Shown, after: Shown): string[] {
  return before.flatMap(([name, was], at) => {
    const is = after[at]![1];
    return was === is ? [] : [`${name}: ${was || 'none'} to ${is || 'none'}`];
  });
}
