/** The questions that make a recipe, or a changed one. Every answer is held against the file's own schema and the planner. */
import type { z } from 'zod';
import {
  formatAperture10,
  formatDryDown10,
  formatTime,
  planProblems,
  type Recipe,
} from '../../recipe/index.js';
import type { RecipeConditions } from '../../recipe/planner/index.js';
import { readField } from '../../recipe/reading/read-field.js';
import { recipeFile } from '../../recipe/recipe-file.js';
import { nameFromTitle } from '../../recipe/recipe-name.js';
import { numberFromPlainKeys, timeFromPlainKeys } from '../../recipe/text/plain-keys.js';
import { UnreadableText } from '../../recipe/text/unreadable-text.js';
import { askPasses } from './pass-questions.js';
import { ask, type Interview, type Question } from './question.js';
import { asAnswer, isNone, literal, NONE } from './wording.js';

const fields = recipeFile.shape;

/** What is ready where nothing is known yet: common practice, no source. */
export const usualRecipe: Recipe = {
  ...{ name: '', title: '', negative: '', paper: '', version: 1, aperture10: 80, magnification1000: 0 },
  ...{ columnHeightMm: 0, focalLengthMm: 0, dryDown10: 0, baseMs: 10_000, notes: '', history: [] },
  passes: [{ kind: 'base', label: 'base', filter: '', stops120: 0, dodges: [] }],
};

/** @param before what is ready: the recipe as it was, or the usual one */
export function* askRecipe(before: Recipe, conditions: RecipeConditions): Interview<Recipe> {
  const title = yield* ask(titleQuestion(before));
  const negative = yield* ask(lineQuestion('negative', 'Negative', before, NEGATIVE_HELP));
  const paper = yield* ask(lineQuestion('paper', 'Paper', before, PAPER_HELP));
  const aperture10 = yield* ask(apertureQuestion(before));
  const magnification1000 = yield* ask(magnificationQuestion(before));
  const dryDown10 = yield* ask(dryDownQuestion(before));
  const baseMs = yield* ask(baseQuestion({ ...before, dryDown10 }, conditions));
  const so = { ...before, title, negative, paper, aperture10, magnification1000, baseMs, dryDown10 };
  const passes = yield* askPasses(so, conditions);
  const notes = yield* ask(notesQuestion(before));
  const name = yield* ask(nameQuestion(before, title));
  return { ...so, passes, notes, name };
}

function titleQuestion({ title }: Recipe): Question<string> {
  return {
    key: 'title',
    ask: 'Title of the print',
    ready: title === '' ? undefined : asAnswer(title),
    help: 'What you call this print, up to 80 characters, such as: Slipway',
    read: (answer) => readField(fields.title, literal(answer)),
  };
}

const NEGATIVE_HELP = `Which negative it is, as you number or name them, such as: 07 12. '${NONE}' for not said.`;
const PAPER_HELP = `The paper as you call it, such as: RC glossy. '${NONE}' for not said.`;

function lineQuestion(
  key: 'negative' | 'paper',
  words: string,
  before: Recipe,
  help: string,
): Question<string> {
  return {
    ...{ key, ask: words, help, ready: asAnswer(before[key]) },
    read: (answer) => (isNone(answer) ? '' : readField(fields[key], literal(answer))),
  };
}

function apertureQuestion({ aperture10 }: Recipe): Question<number> {
  return {
    key: 'aperture',
    ask: 'Lens stop',
    ready: aperture10 === 0 ? NONE : formatAperture10(aperture10),
    help: `The stop that the lens is closed to, as engraved: f/8, 8 or 5.6; without signs: 5point6. '${NONE}' for not said.`,
    read: orNothing((answer) =>
      readField(unwrap(fields.aperture), withF(numberFromPlainKeys(answer.trim()))),
    ),
  };
}

function withF(text: string): string {
  return /^\d/.test(text) ? `f/${text}` : text;
}

function magnificationQuestion({ magnification1000 }: Recipe): Question<number> {
  return {
    key: 'magnification',
    ask: 'Magnification',
    ready: magnification1000 === 0 ? NONE : String(magnification1000 / 1000),
    help: `A side of the print over the same side of the negative, such as 4 or 4.5; without signs: 4point5. It is for printing another size later. '${NONE}' for not said.`,
    read: orNothing((answer) =>
      Math.round(readField(unwrap(fields.magnification), readNumber(answer)) * 1000),
    ),
  };
}

function readNumber(answer: string): number {
  const digits = /^\s*(\d{1,6}(?:\.\d{1,6})?)\s*(?:x|times)?\s*$/i.exec(numberFromPlainKeys(answer))?.[1];
  if (digits === undefined) throw new UnreadableText(`'${answer}' is not a number; write it as 4 or 4.5`);
  return Number(digits);
}

function dryDownQuestion({ dryDown10 }: Recipe): Question<number> {
  return {
    key: 'dryDown',
    ask: 'Less light for dry-down',
    ready: dryDown10 === 0 ? NONE : formatDryDown10(dryDown10),
    help: `How many per cent less light this paper gets because it dries darker: 8% or 8.5%; without signs: 8point5. The base is written without it, the board takes it off. '${NONE}' for nothing.`,
    read: orNothing((answer) => readField(unwrap(fields.dryDown), perCent(numberFromPlainKeys(answer)))),
  };
}

function perCent(text: string): string {
  return `${text.trim().replace(/\s*(%|per\s*cent)$/i, '')}%`;
}

function baseQuestion(before: Recipe, conditions: RecipeConditions): Question<number> {
  return {
    key: 'base',
    ask: 'Base exposure',
    ready: formatTime(before.baseMs),
    help: 'What the whole sheet gets, and what every stop is counted from: 12.5s, 12 or 1m30s; a number alone is seconds; without signs: 12point5.',
    read: (answer) => {
      const baseMs = readField(fields.base, secondsIfBare(timeFromPlainKeys(answer)));
      refuseFaults({ ...before, baseMs, passes: usualRecipe.passes }, conditions);
      return baseMs;
    },
  };
}

function secondsIfBare(text: string): string {
  return /^\s*\d+(\.\d+)?\s*$/.test(text) ? `${text.trim()}s` : text;
}

/** @throws UnreadableText with what the core says that cannot be printed */
export function refuseFaults(recipe: Recipe, conditions: RecipeConditions): void {
  const [fault] = planProblems(recipe, conditions);
  if (fault !== undefined) throw new UnreadableText(fault.message);
}

/** What is there stays: a file's notes may have many lines. */
function notesQuestion({ notes }: Recipe): Question<string> {
  return {
    key: 'notes',
    ask: notes === '' ? 'Notes' : 'Add to the notes',
    ready: NONE,
    help: `A line to remember; it stays on the laptop. '${NONE}' for nothing.`,
    read: (answer) =>
      isNone(answer)
        ? notes
        : readField(fields.notes, [...(notes === '' ? [] : [notes]), literal(answer)].join('\n')),
  };
}

function nameQuestion({ name }: Recipe, title: string): Question<string> {
  const ready = name === '' ? nameFromTitle(title) : name;
  return {
    key: 'name',
    ask: 'Name on the board',
    ready: ready === '' ? undefined : ready,
    help: 'What the board keeps it under: at most 20 small letters, digits and single hyphens. Recipes of one name are versions of one print.',
    read: (answer) => readField(unwrap(fields.name), literal(answer).toLowerCase()),
  };
}

function orNothing(read: (answer: string) => number): (answer: string) => number {
  return (answer) => (isNone(answer) ? 0 : read(answer));
}

function unwrap<Inner extends z.ZodType>(field: z.ZodOptional<Inner>): Inner {
  return field.unwrap();
}
