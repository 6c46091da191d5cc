/** What `--set` may name in a recipe: its fields, and each area by its label. */
import { reframed } from '../../../recipe/framing.js';
import type { Recipe, RecipeDodge, RecipePass } from '../../../recipe/index.js';
import { notCalledAs, type Settable, settableNamed } from '../settable.js';
import { isNone, literal } from '../wording.js';
import * as read from './fields.js';

/** @throws UsageError, UnreadableText or InputError with words for people */
export function setInRecipe(recipe: Recipe, name: string, answer: string): Recipe {
  const head = headOf(recipe);
  return settableNamed([...head, ...notCalledAs(head, passesOf(recipe))], name).set(answer);
}

function headOf(recipe: Recipe): Settable<Recipe>[] {
  const field = <Key extends keyof Recipe>(
    name: string,
    key: Key,
    value: (answer: string) => Recipe[Key],
  ) => ({
    names: [name],
    set: (answer: string) => ({ ...recipe, [key]: value(answer) }),
  });
  return [
    field('title', 'title', read.readTitle),
    field('name', 'name', read.readName),
    field('negative', 'negative', read.readNegative),
    field('paper', 'paper', read.readPaper),
    field('aperture', 'aperture10', read.readAperture10),
    field('magnification', 'magnification1000', read.readMagnification1000),
    field('columnHeightMm', 'columnHeightMm', read.readColumnMm),
    field('focalLengthMm', 'focalLengthMm', read.readFocalMm),
    field('dryDown', 'dryDown10', read.readDryDown10),
    field('base', 'baseMs', read.readBaseMs),
    field('framing', 'framing', read.readNoFraming),
    ...read.framingFields.map((name) =>
      field(`framing.${name}`, 'framing', (answer) =>
        reframed(recipe.framing, { [name]: read.readFramingField(name, answer) }),
      ),
    ),
    field('notes', 'notes', (answer) => (isNone(answer) ? '' : read.readNotes(literal(answer)))),
  ];
}

function passesOf(recipe: Recipe): Settable<Recipe>[] {
  return recipe.passes.flatMap((pass, at) => {
    const become = (...passes: RecipePass[]): Recipe => ({
      ...recipe,
      passes: recipe.passes.toSpliced(at, 1, ...passes),
    });
    const names = [pass.label, String(at + 1)];
    const filter = (answer: string) => become({ ...pass, filter: read.readFilter(answer) });
    return [
      { names: [...names, ...names.map((name) => `${name}.stops`)], set: setStops(pass, become) },
      {
        names: [...(pass.kind === 'base' ? ['filter'] : []), ...names.map((name) => `${name}.filter`)],
        set: filter,
      },
      ...pass.dodges.map((dodge, index) =>
        dodgeOf(dodge, names, (...dodges) =>
          become({ ...pass, dodges: pass.dodges.toSpliced(index, 1, ...dodges) }),
        ),
      ),
    ];
  });
}

function setStops(pass: RecipePass, become: (...passes: RecipePass[]) => Recipe) {
  return (answer: string): Recipe => {
    if (pass.kind === 'base') return become({ ...pass, stops120: read.readOffset120(answer) });
    return isNone(answer) ? become() : become({ ...pass, stops120: read.readBurn120(answer) });
  };
}

function dodgeOf(
  dodge: RecipeDodge,
  passNames: readonly string[],
  become: (...dodges: RecipeDodge[]) => Recipe,
): Settable<Recipe> {
  return {
    names: [dodge.label, ...passNames.map((name) => `${name}.${dodge.label}`)],
    set: (answer) => (isNone(answer) ? become() : become({ ...dodge, stops120: read.readDodge120(answer) })),
  };
}
