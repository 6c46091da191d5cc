/** The questions about what is done to the sheet: base exposures, dodges and burns. */
import { limits } from '../../../shared-protocol/limits.js';
import {
  formatStops,
  planProblems,
  type Recipe,
  type RecipeDodge,
  type RecipePass,
  readStops,
} from '../../recipe/index.js';
import type { RecipeConditions } from '../../recipe/planner/index.js';
import { readField } from '../../recipe/reading/read-field.js';
import { recipeFile } from '../../recipe/recipe-file.js';
import { stopsFromPlainKeys } from '../../recipe/text/plain-keys.js';
import { UnreadableText } from '../../recipe/text/unreadable-text.js';
import { ask, type Interview, type Question } from './question.js';
import { asAnswer, HOW_TO_QUOTE, isNone, literal, NONE } from './wording.js';

const [basePass, burnPass] = recipeFile.shape.passes.element.options;
const dodgeFields = basePass.shape.dodges.unwrap().element.shape;

const USUAL_DODGE_STOPS120 = -40;
const USUAL_BURN_STOPS120 = 60;

const HOW_STOPS_ARE_TYPED =
  'In stops: 1/3, 1/2, 1 1/4 or 0.5; without signs: third, 2thirds, half, 1and1quarter, 7over120';

/** What the passes asked so far are part of: how an answer is tried on the planner. */
type Trial = (passes: readonly RecipePass[]) => void;

/** The passes in their order: those that were there, then burns until there are no more. */
export function* askPasses(recipe: Recipe, conditions: RecipeConditions): Interview<RecipePass[]> {
  const trial: Trial = (passes) => {
    const [fault] = planProblems({ ...recipe, passes }, conditions);
    if (fault !== undefined) throw new UnreadableText(fault.message);
  };
  const passes: RecipePass[] = [];
  for (const before of yield* askBases(recipe.passes)) {
    const at = passes.length + 1;
    const pass =
      before.kind === 'base'
        ? yield* askBase(before, at, passes, trial)
        : yield* askBurn(before, at, passes, trial);
    if (pass !== undefined) passes.push(pass);
  }
  while (passes.length < limits.recipePasses) {
    const burn = yield* askBurn(undefined, passes.length + 1, passes, trial);
    if (burn === undefined) break;
    passes.push(burn);
  }
  return passes;
}

/** As many base exposures as are wanted: new ones follow the last, and the last go first. */
function* askBases(before: readonly RecipePass[]): Interview<readonly RecipePass[]> {
  const count = before.filter(({ kind }) => kind === 'base').length;
  const wanted = yield* ask(basesQuestion(count));
  if (wanted <= count) {
    let seen = 0;
    return before.filter(({ kind }) => kind === 'burn' || ++seen <= wanted);
  }
  const last = before.findLastIndex(({ kind }) => kind === 'base');
  const more = Array.from({ length: wanted - count }, (_, at) => newBase(count + at + 1));
  return before.toSpliced(last + 1, 0, ...more);
}

function newBase(number: number): RecipePass {
  return {
    kind: 'base',
    label: number === 1 ? 'base' : `base ${number}`,
    filter: '',
    stops120: 0,
    dodges: [],
  };
}

function basesQuestion(count: number): Question<number> {
  return {
    key: 'bases',
    ask: 'Base exposures',
    ready: String(Math.max(1, count)),
    help: '1 as a rule; 2 for a soft and a hard one through two filters (split grade).',
    read: (answer) => {
      const wanted = /^\s*\d{1,2}\s*$/.test(answer) ? Number(answer) : 0;
      if (wanted >= 1 && wanted <= limits.recipePasses) return wanted;
      throw new UnreadableText(`'${answer}' is not a whole number from 1 to ${limits.recipePasses}`);
    },
  };
}

function* askBase(
  before: RecipePass,
  at: number,
  earlier: readonly RecipePass[],
  trial: Trial,
): Interview<RecipePass> {
  const isFirst = !earlier.some(({ kind }) => kind === 'base');
  const filter = yield* ask(filterQuestion(before, at, isFirst ? 'Filter' : `Filter of '${before.label}'`));
  const bare = { ...before, filter, dodges: [] };
  const stops120 =
    isFirst && before.stops120 === 0
      ? 0
      : yield* ask(offsetQuestion(before, at, (value) => trial([...earlier, { ...bare, stops120: value }])));
  const tried: Trial = (passes) => trial([...earlier, ...passes]);
  return { ...bare, stops120, dodges: yield* askDodges({ ...before, filter, stops120 }, at, tried, true) };
}

/** A burn, or nothing where there is none, or none any more. */
function* askBurn(
  before: RecipePass | undefined,
  at: number,
  earlier: readonly RecipePass[],
  trial: Trial,
): Interview<RecipePass | undefined> {
  const isAnother = earlier.some(({ kind }) => kind === 'burn');
  const label = yield* ask(
    areaQuestion(`${at}.burn`, before?.label, isAnother ? 'Another area to burn in' : 'Area to burn in'),
  );
  if (label === '') return undefined;
  const base = earlier.find(({ kind }) => kind === 'base');
  const same: RecipePass = before ?? {
    ...{ kind: 'burn', label, filter: base?.filter ?? '', stops120: USUAL_BURN_STOPS120, dodges: [] },
  };
  const bare = { ...same, label, dodges: [] };
  const stops120 = yield* ask(
    burnQuestion(same.stops120, label, at, (value) => trial([...earlier, { ...bare, stops120: value }])),
  );
  const filter = yield* ask(filterQuestion(same, at, `Filter for '${label}'`));
  const tried: Trial = (passes) => trial([...earlier, ...passes]);
  return {
    ...bare,
    stops120,
    filter,
    dodges: yield* askDodges({ ...same, label, filter, stops120 }, at, tried, false),
  };
}

/** Dodges that were there, then more of them; of a burn only while there are any, since they are seldom wanted there. */
function* askDodges(pass: RecipePass, at: number, trial: Trial, more: boolean): Interview<RecipeDodge[]> {
  const dodges: RecipeDodge[] = [];
  const where = pass.label === 'base' ? '' : ` in '${pass.label}'`;
  const place = (index: number) => `${at}.dodge.${index}`;
  for (let index = 0; index < limits.recipeDodges; index++) {
    const before = pass.dodges[index];
    if (before === undefined && !more) break;
    const first = index === 0 ? 'Area to hold back' : 'Another area to hold back';
    const label = yield* ask(areaQuestion(place(index), before?.label, `${first}${where}`));
    if (label === '' && before === undefined) break;
    if (label === '') continue;
    const dodge = { ...before, label, stops120: before?.stops120 ?? USUAL_DODGE_STOPS120 };
    const stops120 = yield* ask(
      dodgeQuestion(dodge, place(index), (value) =>
        trial([{ ...pass, dodges: [...dodges, { ...dodge, stops120: value }] }]),
      ),
    );
    dodges.push({ ...dodge, stops120 });
  }
  return dodges;
}

function areaQuestion(key: string, before: string | undefined, words: string): Question<string> {
  return {
    ...{ key, ask: words, ready: before === undefined ? NONE : asAnswer(before) },
    help:
      before === undefined
        ? `A name for the area, as the display will show it, up to 16 characters, such as: sky. '${NONE}' when there is no other. ${HOW_TO_QUOTE}`
        : `The area's name, up to 16 characters; '${NONE}' takes it out. ${HOW_TO_QUOTE}`,
    read: (answer) => (isNone(answer) ? '' : readField(dodgeFields.label, literal(answer))),
  };
}

function filterQuestion({ filter }: RecipePass, at: number, words: string): Question<string> {
  return {
    ...{ key: `${at}.filter`, ask: words, ready: asAnswer(filter) },
    help: `The filter as you call it, up to 8 characters, such as 2 or 00. '${NONE}' for none.`,
    read: (answer) => (isNone(answer) ? '' : readField(burnPass.shape.filter, literal(answer))),
  };
}

function offsetQuestion(
  { stops120, label }: RecipePass,
  at: number,
  fits: (stops120: number) => void,
): Question<number> {
  return {
    ...{ key: `${at}.stops`, ask: `'${label}' from the base, in stops`, ready: formatStops(stops120) },
    help: `${HOW_STOPS_ARE_TYPED}; less than the base: -1/2 or minus1half; as long as the base: 0.`,
    read: (answer) => {
      const value = readField(basePass.shape.stops, stopsFromPlainKeys(answer));
      fits(value);
      return value;
    },
  };
}

function burnQuestion(
  stops120: number,
  label: string,
  at: number,
  fits: (stops120: number) => void,
): Question<number> {
  return {
    ...{ key: `${at}.stops`, ask: `Burn '${label}' in by, in stops`, ready: amount(stops120) },
    help: `How much more light than the base the area gets. ${HOW_STOPS_ARE_TYPED}.`,
    read: (answer) => {
      const value = readField(burnPass.shape.stops, stopsFromPlainKeys(answer));
      fits(value);
      return value;
    },
  };
}

/** An amount held back needs no sign: nothing else can be meant. */
function dodgeQuestion(
  { stops120, label }: RecipeDodge,
  place: string,
  fits: (stops120: number) => void,
): Question<number> {
  return {
    ...{ key: `${place}.stops`, ask: `Hold '${label}' back by, in stops`, ready: amount(stops120) },
    help: `How much less light than the rest of the sheet the area gets. ${HOW_STOPS_ARE_TYPED}.`,
    read: (answer) => {
      const value = readField(
        dodgeFields.stops,
        formatStops(-Math.abs(readStops(stopsFromPlainKeys(answer)))),
      );
      fits(value);
      return value;
    },
  };
}

function amount(stops120: number): string {
  return formatStops(Math.abs(stops120)).replace('+', '');
}
