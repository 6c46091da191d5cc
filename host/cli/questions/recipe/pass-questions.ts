/** The questions about what is done to the sheet: base exposures, dodges and burns. */
import { limits } from '../../../../shared-protocol/limits.js';
import { formatStops, type Recipe, type RecipeDodge, type RecipePass } from '../../../recipe/index.js';
import { UnreadableText } from '../../../recipe/text/unreadable-text.js';
import { ask, type Interview, type Question } from '../question.js';
import { asAnswer, HOW_TO_QUOTE, NONE } from '../wording.js';
import { readArea, readBurn120, readDodge120, readFilter, readOffset120 } from './fields.js';
import type { Trial } from './recipe-questions.js';

/** Ready where nothing was said (common practice, no source). */
const USUAL_DODGE_STOPS120 = -40;
const USUAL_BURN_STOPS120 = 60;

const HOW_STOPS_ARE_TYPED =
  'In stops: 1/3, 1/2, 1 1/4 or 0.5; without signs: third, 2thirds, half, 1and1quarter, 7over120.';

/** Tries a pass, with those before it. */
type PassTrial = (pass: RecipePass) => void;

/** The passes in their order: those that were there, then burns until there are no more. */
export function* askPasses(recipe: Recipe, trial: Trial): Interview<RecipePass[]> {
  const passes: RecipePass[] = [];
  const tryPass: PassTrial = (pass) => trial({ ...recipe, passes: [...passes, pass] });
  const asked = { base: 0, burn: 0 };
  for (const before of yield* askBases(recipe.passes)) {
    const key = `${before.kind}.${asked[before.kind]++}`;
    const pass =
      before.kind === 'base'
        ? yield* askBase(before, key, passes, tryPass)
        : yield* askBurn(before, key, passes, tryPass);
    if (pass !== undefined) passes.push(pass);
  }
  while (passes.length < limits.recipePasses) {
    const burn = yield* askBurn(undefined, `burn.${asked.burn++}`, passes, tryPass);
    if (burn === undefined) break;
    passes.push(burn);
  }
  return passes;
}

/** As many base exposures as are wanted: new ones follow the last, and the last go first. */
function* askBases(before: readonly RecipePass[]): Interview<readonly RecipePass[]> {
  const count = before.filter(({ kind }) => kind === 'base').length;
  const most = limits.recipePasses - before.length + count;
  const wanted = yield* ask(basesQuestion(count, most));
  let seen = 0;
  if (wanted <= count) return before.filter(({ kind }) => kind === 'burn' || ++seen <= wanted);
  const last = before.findLastIndex(({ kind }) => kind === 'base');
  const more = Array.from({ length: wanted - count }, (_, at) => newBase(count + at + 1));
  return before.toSpliced(last + 1, 0, ...more);
}

function newBase(number: number): RecipePass {
  const label = number === 1 ? 'base' : `base ${number}`;
  return { kind: 'base', label, filter: '', stops120: 0, dodges: [] };
}

/** A recipe that has none, which a file may say, keeps none. */
function basesQuestion(count: number, most: number): Question<number> {
  const least = Math.min(1, count);
  return {
    key: 'bases',
    ask: 'Base exposures',
    ready: String(count),
    help: '1 as a rule; 2 for a soft and a hard one through two filters (split grade).',
    read: (answer) => {
      const wanted = /^\s*\d{1,2}\s*$/.test(answer) ? Number(answer) : Number.NaN;
      if (wanted >= least && wanted <= most) return wanted;
      throw new UnreadableText(`'${answer}' is not a whole number from ${least} to ${most}`);
    },
  };
}

function* askBase(
  before: RecipePass,
  key: string,
  earlier: readonly RecipePass[],
  trial: PassTrial,
): Interview<RecipePass> {
  const isFirst = !earlier.some(({ kind }) => kind === 'base');
  const filter = yield* ask(filterQuestion(before, key, isFirst ? 'Filter' : `Filter of '${before.label}'`));
  const bare = { ...before, filter, dodges: [] };
  const isTheBase = isFirst && before.stops120 === 0;
  const stops120 = isTheBase ? 0 : yield* ask(offsetQuestion(bare, key, trial));
  const dodges = yield* askDodges({ ...before, filter, stops120 }, key, trial, true);
  return { ...bare, stops120, dodges };
}

/** A burn; nothing where there is none, or none any more. */
function* askBurn(
  before: RecipePass | undefined,
  key: string,
  earlier: readonly RecipePass[],
  trial: PassTrial,
): Interview<RecipePass | undefined> {
  const isAnother = earlier.some(({ kind }) => kind === 'burn');
  const words = isAnother ? 'Another area to burn in' : 'Area to burn in';
  const label = yield* ask(areaQuestion(`${key}.area`, before?.label, words));
  if (label === '') return undefined;
  const baseFilter = earlier.find(({ kind }) => kind === 'base')?.filter ?? '';
  const same = before ?? newBurn(baseFilter);
  const bare = { ...same, label, dodges: [] };
  const stops120 = yield* ask(burnQuestion(bare, key, trial));
  const filter = yield* ask(filterQuestion(same, key, `Filter for '${label}'`));
  const dodges = yield* askDodges({ ...same, label, filter, stops120 }, key, trial, false);
  return { ...bare, stops120, filter, dodges };
}

function newBurn(filter: string): RecipePass {
  return { kind: 'burn', label: '', filter, stops120: USUAL_BURN_STOPS120, dodges: [] };
}

/** Dodges that were there, then `more` of them, which are seldom wanted in a burn. */
function* askDodges(
  pass: RecipePass,
  key: string,
  trial: PassTrial,
  more: boolean,
): Interview<RecipeDodge[]> {
  const dodges: RecipeDodge[] = [];
  for (let index = 0; index < limits.recipeDodges; index++) {
    const before = pass.dodges[index];
    if (before === undefined && !more) break;
    const place = `${key}.dodge.${index}`;
    const label = yield* ask(areaQuestion(place, before?.label, dodgeWords(index, pass)));
    if (label === '' && before === undefined) break;
    if (label === '') continue;
    const dodge = { ...before, label, stops120: before?.stops120 ?? USUAL_DODGE_STOPS120 };
    const tryDodge = (tried: RecipeDodge) => trial({ ...pass, dodges: [...dodges, tried] });
    dodges.push({ ...dodge, stops120: yield* ask(dodgeQuestion(dodge, place, tryDodge)) });
  }
  return dodges;
}

function dodgeWords(index: number, { label }: RecipePass): string {
  const words = index === 0 ? 'Area to hold back' : 'Another area to hold back';
  return label === 'base' ? words : `${words} in '${label}'`;
}

function areaQuestion(key: string, before: string | undefined, words: string): Question<string> {
  const help =
    before === undefined
      ? `A name for the area, as the display will show it, up to 16 characters, such as: sky. '${NONE}' when there is no other.`
      : `The area's name, up to 16 characters; '${NONE}' takes it out.`;
  return {
    ...{ key, ask: words, ready: before === undefined ? NONE : asAnswer(before) },
    help: `${help}\n${HOW_TO_QUOTE}`,
    read: readArea,
  };
}

function filterQuestion({ filter }: RecipePass, key: string, words: string): Question<string> {
  return {
    ...{ key: `${key}.filter`, ask: words, ready: asAnswer(filter) },
    help: `The filter as you call it, up to 8 characters, such as 2 or 00. '${NONE}' for none.`,
    read: readFilter,
  };
}

function offsetQuestion(pass: RecipePass, key: string, trial: PassTrial): Question<number> {
  return {
    key: `${key}.stops`,
    ask: `'${pass.label}' from the base, in stops`,
    ready: formatStops(pass.stops120),
    help: `${HOW_STOPS_ARE_TYPED}\nLess than the base: -1/2 or minus1half; as long as the base: 0.`,
    read: tried(readOffset120, (stops120) => trial({ ...pass, stops120 })),
  };
}

function burnQuestion(pass: RecipePass, key: string, trial: PassTrial): Question<number> {
  return {
    key: `${key}.stops`,
    ask: `Burn '${pass.label}' in by, in stops`,
    ready: amount(pass.stops120),
    help: `How much more light than the base the area gets.\n${HOW_STOPS_ARE_TYPED}`,
    read: tried(readBurn120, (stops120) => trial({ ...pass, stops120 })),
  };
}

function dodgeQuestion(
  dodge: RecipeDodge,
  key: string,
  trial: (dodge: RecipeDodge) => void,
): Question<number> {
  return {
    key: `${key}.stops`,
    ask: `Hold '${dodge.label}' back by, in stops`,
    ready: amount(dodge.stops120),
    help: `How much less light than the rest of the sheet the area gets.\n${HOW_STOPS_ARE_TYPED}`,
    read: tried(readDodge120, (stops120) => trial({ ...dodge, stops120 })),
  };
}

/** Reads, and tries what was read before it is taken. */
function tried(read: (answer: string) => number, trial: (value: number) => void): (answer: string) => number {
  return (answer) => {
    const value = read(answer);
    trial(value);
    return value;
  };
}

function amount(stops120: number): string {
  return formatStops(Math.abs(stops120)).replace('+', '');
}
