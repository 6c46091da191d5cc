/** A board's recipe as the lines that upload it, and back from the lines that a board answers with. */
import type { Fields, Message, MessageType } from '../../shared-protocol/index.js';
import type { BoardPass, BoardRecipe } from './board-recipe.js';
import { joinStops, splitStops } from './fine-stops.js';

/** A message before the link gives it its id. */
export type Unnumbered<Type extends MessageType> = { type: Type } & Fields<Type>;

type PartType =
  | 'recipe-begin'
  | 'recipe-text'
  | 'recipe-head'
  | 'recipe-pass'
  | 'recipe-dodge'
  | 'recipe-fine';
export type RecipePart = { [Type in PartType]: Unnumbered<Type> }[PartType];

/** The requests of an upload in their order, from recipe-begin to the last part; recipe-commit is the link's. */
export function partsOfRecipe(recipe: BoardRecipe): RecipePart[] {
  const { passes, name, version, baseMs, aperture10, magnification1000, dryDown10 } = recipe;
  const dodges = passes.reduce((sum, pass) => sum + pass.dodges.length, 0);
  return [
    { type: 'recipe-begin', name, passes: passes.length, dodges },
    ...(['title', 'negative', 'paper'] as const).map(
      (which) => ({ type: 'recipe-text', which, value: recipe[which] }) as const,
    ),
    { type: 'recipe-head', version, baseMs, aperture10, magnification1000, dryDown10 },
    ...passes.flatMap(partsOfPass),
    ...finePartsOf(passes),
  ];
}

function partsOfPass({ dodges, kind, label, filter, ...offset }: BoardPass, index: number): RecipePart[] {
  const { stops120 } = splitStops(offset.stops120);
  return [
    { type: 'recipe-pass', pass: index + 1, kind, label, filter, stops120, dodges: dodges.length },
    ...dodges.map(
      (dodge) =>
        ({
          type: 'recipe-dodge',
          label: dodge.label,
          stops120: splitStops(dodge.stops120).stops120,
        }) as const,
    ),
  ];
}

/** Of the passes in order, then of all dodges in order, those that have any. */
function finePartsOf(passes: readonly BoardPass[]): RecipePart[] {
  const offsets = [...passes, ...passes.flatMap(({ dodges }) => dodges)];
  return offsets.flatMap(({ stops120 }, index) => {
    const { fine3M } = splitStops(stops120);
    return fine3M === 0 ? [] : [{ type: 'recipe-fine', offset: index + 1, fine3M } as const];
  });
}

/** Parts that do not make a whole recipe; which one is wrong. */
export class RecipePartsError extends Error {
  override readonly name = 'RecipePartsError';
}

/**
 * Puts a recipe together from the parts that a board sent, in any order that keeps each dodge after its pass.
 * @throws RecipePartsError if parts are missing, too many, or out of place.
 */
export function recipeFromParts(parts: readonly (RecipePart | Message)[]): BoardRecipe {
  const begin = only(parts, 'recipe-begin');
  const head = only(parts, 'recipe-head');
  const texts = new Map(ofType(parts, 'recipe-text').map(({ which, value }) => [which, value]));
  const passes = withFineParts(passesFromParts(parts), ofType(parts, 'recipe-fine'));
  const dodges = passes.reduce((sum, pass) => sum + pass.dodges.length, 0);
  if (passes.length !== begin.passes || dodges !== begin.dodges)
    throw new RecipePartsError(
      `${begin.name} announced ${begin.passes} passes and ${begin.dodges} dodges, ` +
        `${passes.length} and ${dodges} came`,
    );
  const { version, baseMs, aperture10, magnification1000, dryDown10 } = head;
  return {
    name: begin.name,
    version,
    title: texts.get('title') ?? '',
    negative: texts.get('negative') ?? '',
    paper: texts.get('paper') ?? '',
    ...{ baseMs, aperture10, magnification1000, dryDown10, passes },
  };
}

function passesFromParts(parts: readonly (RecipePart | Message)[]): BoardPass[] {
  const passes: (BoardPass & { announced: number; dodges: BoardPass['dodges'][number][] })[] = [];
  for (const part of parts) {
    if (part.type === 'recipe-pass') {
      if (part.pass !== passes.length + 1) throw new RecipePartsError(`pass ${part.pass} is out of place`);
      const { kind, label, filter, stops120 } = part;
      passes.push({ kind, label, filter, stops120, dodges: [], announced: part.dodges });
    } else if (part.type === 'recipe-dodge') {
      const pass = passes.at(-1);
      if (pass === undefined) throw new RecipePartsError('a dodge came before any pass');
      pass.dodges.push({ label: part.label, stops120: part.stops120 });
    }
  }
  return passes.map(({ announced, ...pass }, index) => {
    if (announced !== pass.dodges.length)
      throw new RecipePartsError(
        `pass ${index + 1} announced ${announced} dodges, ${pass.dodges.length} came`,
      );
    return pass;
  });
}

function withFineParts(
  passes: readonly BoardPass[],
  fineParts: readonly { offset: number; fine3M: number }[],
): BoardPass[] {
  const fine = new Map(fineParts.map(({ offset, fine3M }) => [offset, fine3M]));
  const offsets = passes.reduce((sum, pass) => sum + 1 + pass.dodges.length, 0);
  const astray = fineParts.some(({ offset }) => offset > offsets);
  if (fine.size < fineParts.length || astray)
    throw new RecipePartsError(
      `the fine parts that came are not of its ${offsets} offsets, one each at most`,
    );
  let dodgeOffset = passes.length;
  const joined = (stops120: number, offset: number) => joinStops({ stops120, fine3M: fine.get(offset) ?? 0 });
  return passes.map((pass, index) => ({
    ...pass,
    stops120: joined(pass.stops120, index + 1),
    dodges: pass.dodges.map((dodge) => ({ ...dodge, stops120: joined(dodge.stops120, ++dodgeOffset) })),
  }));
}

function ofType<Type extends PartType>(parts: readonly (RecipePart | Message)[], type: Type) {
  return parts.filter((part): part is Extract<RecipePart, { type: Type }> => part.type === type);
}

function only<Type extends PartType>(parts: readonly (RecipePart | Message)[], type: Type) {
  const [part, ...others] = ofType(parts, type);
  if (part === undefined || others.length > 0)
    throw new RecipePartsError(`a recipe has one ${type}, ${part === undefined ? 'none' : 'more'} came`);
  return part;
}
