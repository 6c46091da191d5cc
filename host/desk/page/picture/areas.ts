import type { Recipe, RecipeDodge, RecipePass } from '../../../recipe/recipe.js';
import type { Shape } from '../../../recipe/shape.js';

/** Where an area stands in a recipe: the burn itself, or a dodge of its pass; both from 0. */
export interface AreaPlace {
  readonly pass: number;
  readonly dodge?: number;
}

/** A dodge or burn as one sees it on the sheet, numbered as on the printing map. */
export interface Area {
  readonly place: AreaPlace;
  readonly number: number;
  readonly kind: 'dodge' | 'burn';
  readonly label: string;
  readonly stops120: number;
  readonly shape: Shape | undefined;
}

export function areasIn({ passes }: Recipe): Area[] {
  const areas: Omit<Area, 'number'>[] = passes.flatMap((part, pass) => [
    ...(part.kind === 'burn' ? [{ place: { pass }, kind: 'burn' as const, ...known(part) }] : []),
    ...part.dodges.map((each, dodge) => ({
      place: { pass, dodge },
      kind: 'dodge' as const,
      ...known(each),
    })),
  ]);
  return areas.map((area, index) => ({ ...area, number: index + 1 }));
}

function known({ label, stops120, shape }: RecipeDodge | RecipePass) {
  return { label, stops120, shape };
}

export function placeName({ pass, dodge }: AreaPlace): string {
  return `${pass}/${dodge ?? ''}`;
}

/** The recipe with one area another; the rest of it is the same. */
export function withArea(
  recipe: Recipe,
  { pass, dodge }: AreaPlace,
  change: { readonly stops120?: number; readonly shape?: Shape | undefined },
): Recipe {
  const changed = (part: RecipePass): RecipePass =>
    dodge === undefined ? { ...part, ...change } : { ...part, dodges: replaced(part.dodges, dodge, change) };
  return { ...recipe, passes: recipe.passes.map((part, at) => (at === pass ? changed(part) : part)) };
}

function replaced(dodges: readonly RecipeDodge[], at: number, change: object): RecipeDodge[] {
  return dodges.map((each, index) => (index === at ? { ...each, ...change } : each));
}

/** Without the shapes of those that are hidden, so that the picture is without them too. */
export function withoutHidden(recipe: Recipe, hidden: ReadonlySet<string>): Recipe {
  return areasIn(recipe)
    .filter(({ place }) => hidden.has(placeName(place)))
    .reduce((so, { place }) => withArea(so, place, { shape: undefined }), recipe);
}

const stopsBounds = { burn: { least: 1, most: 1200 }, dodge: { least: -1200, most: -1 } } as const;

/** As near to what was asked as an area of this kind may be. */
export function stopsWithin(kind: Area['kind'], stops120: number): number {
  const { least, most } = stopsBounds[kind];
  return Math.min(most, Math.max(least, stops120));
}

const FIRST_BURN_STOPS120 = 60;
const FIRST_DODGE_STOPS120 = -40;

/** The recipe with one more area, and where that stands. A dodge belongs to the first base pass. */
export function withNewArea(recipe: Recipe, kind: Area['kind'], shape: Shape): [Recipe, AreaPlace] {
  const label = freeLabel(recipe);
  const { passes } = recipe;
  const base = Math.max(
    0,
    passes.findIndex((part) => part.kind === 'base'),
  );
  if (kind === 'burn') {
    const filter = passes[base]?.filter ?? '';
    const burn: RecipePass = { kind, label, filter, stops120: FIRST_BURN_STOPS120, dodges: [], shape };
    return [{ ...recipe, passes: [...passes, burn] }, { pass: passes.length }];
  }
  const dodges = [...passes[base]!.dodges, { label, stops120: FIRST_DODGE_STOPS120, shape }];
  const changed = passes.map((part, at) => (at === base ? { ...part, dodges } : part));
  return [
    { ...recipe, passes: changed },
    { pass: base, dodge: dodges.length - 1 },
  ];
}

function freeLabel(recipe: Recipe): string {
  const taken = new Set(areasIn(recipe).map(({ label }) => label));
  let number = taken.size + 1;
  while (taken.has(`area ${number}`)) number++;
  return `area ${number}`;
}
