/** The questions that make a recipe, or a changed one. Every answer is held against the file's own schema and the planner. */
import { formatAperture10, formatDryDown10, formatTime, type Recipe } from '../../../recipe/index.js';
import { nameFromTitle } from '../../../recipe/recipe-name.js';
import { usualRecipe } from '../../../recipe/usual-recipe.js';
import { notesQuestion } from '../notes-question.js';
import { ask, type Interview, type Question } from '../question.js';
import { asAnswer, HOW_TO_QUOTE, NONE } from '../wording.js';
import {
  readAperture10,
  readBaseMs,
  readDryDown10,
  readMagnification1000,
  readName,
  readNegative,
  readNotes,
  readPaper,
  readTitle,
} from './fields.js';
import { askPasses } from './pass-questions.js';

/** Tries on the planner what was answered so far. @throws UnreadableText with what cannot be printed, and the way out */
export type Trial = (recipe: Recipe) => void;

/** @param before what is ready: the recipe as it was, or the usual one */
export function* askRecipe(before: Recipe, trial: Trial): Interview<Recipe> {
  const title = yield* ask(titleQuestion(before));
  const negative = yield* ask(negativeQuestion(before));
  const paper = yield* ask(paperQuestion(before));
  const aperture10 = yield* ask(apertureQuestion(before));
  const magnification1000 = yield* ask(magnificationQuestion(before));
  const dryDown10 = yield* ask(dryDownQuestion(before));
  const baseMs = yield* ask(baseQuestion({ ...before, dryDown10 }, trial));
  const so = { ...before, title, negative, paper, aperture10, magnification1000, baseMs, dryDown10 };
  const passes = yield* askPasses(so, trial);
  const notes = yield* ask(notesQuestion(before.notes, readNotes));
  const name = yield* ask(nameQuestion(before, title));
  return { ...so, passes, notes, name };
}

function titleQuestion({ title }: Recipe): Question<string> {
  return {
    key: 'title',
    ask: 'Title of the print',
    ready: title === '' ? undefined : asAnswer(title),
    help: `What you call this print, up to 80 characters, such as: Slipway\n${HOW_TO_QUOTE}`,
    read: readTitle,
  };
}

function negativeQuestion({ negative }: Recipe): Question<string> {
  return {
    key: 'negative',
    ask: 'Negative',
    ready: asAnswer(negative),
    help: `Which negative it is, as you number or name them, such as: 07 12. '${NONE}' for not said.`,
    read: readNegative,
  };
}

function paperQuestion({ paper }: Recipe): Question<string> {
  return {
    key: 'paper',
    ask: 'Paper',
    ready: asAnswer(paper),
    help: `The paper as you call it, such as: RC glossy. '${NONE}' for not said.`,
    read: readPaper,
  };
}

function apertureQuestion({ aperture10 }: Recipe): Question<number> {
  return {
    key: 'aperture',
    ask: 'Lens stop',
    ready: aperture10 === 0 ? NONE : formatAperture10(aperture10),
    help: `What the lens is closed to, as engraved: f/8, 8 or 5.6; without signs: 5point6. '${NONE}' for not said.`,
    read: readAperture10,
  };
}

function magnificationQuestion({ magnification1000 }: Recipe): Question<number> {
  return {
    key: 'magnification',
    ask: 'Magnification',
    ready: magnification1000 === 0 ? NONE : String(magnification1000 / 1000),
    help: `A side of the print over the same side of the negative, such as 4 or 4.5; without signs: 4point5.\nFrom it the exposure of another size is worked out. '${NONE}' for not said.`,
    read: readMagnification1000,
  };
}

function dryDownQuestion({ dryDown10 }: Recipe): Question<number> {
  return {
    key: 'dryDown',
    ask: 'Less light for dry-down',
    ready: dryDown10 === 0 ? NONE : formatDryDown10(dryDown10),
    help: `How many per cent less light, because this paper dries darker: 8% or 8.5%; without signs: 8 or 8point5.\nThe board takes it off the base. '${NONE}' for nothing.`,
    read: readDryDown10,
  };
}

function baseQuestion(before: Recipe, trial: Trial): Question<number> {
  return {
    key: 'base',
    ask: 'Base exposure',
    ready: formatTime(before.baseMs),
    help: 'What the whole sheet gets, and what every stop is counted from: 12.5s, 12 or 1m30s; a number alone is seconds; without signs: 12point5.',
    read: (answer) => {
      const baseMs = readBaseMs(answer);
      trial({ ...before, baseMs, passes: usualRecipe.passes });
      return baseMs;
    },
  };
}

function nameQuestion({ name }: Recipe, title: string): Question<string> {
  const ready = name === '' ? nameFromTitle(title) : name;
  return {
    key: 'name',
    ask: 'Name on the board',
    ready: ready === '' ? undefined : ready,
    help: 'What the board keeps it under: at most 20 small letters, digits and single hyphens. Recipes of one name are versions of one print.',
    read: readName,
  };
}
