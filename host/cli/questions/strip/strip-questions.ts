/** The questions that make a test strip, and what `--set` may name in it. */
import { limits } from '../../../../shared-protocol/limits.js';
import { formatStops, formatTime } from '../../../recipe/index.js';
import { readField } from '../../../recipe/reading/read-field.js';
import { type ReadStrip, stripFile } from '../../../recipe/strip-file.js';
import { stopsFromPlainKeys, timeFromPlainKeys } from '../../../recipe/text/plain-keys.js';
import { isTime } from '../../../recipe/text/time-text.js';
import { UnreadableText } from '../../../recipe/text/unreadable-text.js';
import { notesQuestion } from '../notes-question.js';
import { ask, type Interview, type Question } from '../question.js';
import type { Settable } from '../settable.js';
import { asAnswer, isNone, literal, NONE } from '../wording.js';

const fields = stripFile.shape;

/** @param trial plans the strip; throws what cannot be exposed */
export function* askStrip(before: ReadStrip, trial: (strip: ReadStrip) => void): Interview<ReadStrip> {
  const first = yield* ask(firstQuestion(before));
  const step = yield* ask(stepQuestion({ ...before, first }, trial));
  const cover = yield* ask(coverQuestion(before));
  const patches = yield* ask(patchesQuestion({ ...before, first, step, cover }, trial));
  const filter = yield* ask(filterQuestion(before));
  const notes = yield* ask(notesQuestion(before.notes, readNotes));
  return { ...before, first, step, cover, patches, filter, notes };
}

/** Each of them by its name in the file. */
export function stripSettables(strip: ReadStrip): Settable<ReadStrip>[] {
  const field = <Key extends keyof ReadStrip>(key: Key, read: (answer: string) => ReadStrip[Key]) => ({
    names: [key],
    set: (answer: string) => ({ ...strip, [key]: read(answer) }),
  });
  return [
    field('first', readFirst),
    field('step', readStep),
    field('patches', readPatches),
    field('cover', readCover),
    field('filter', readFilter),
    field('notes', (answer) => (isNone(answer) ? '' : readNotes(literal(answer)))),
  ];
}

const readFirst = (answer: string) => readField(fields.first, timeFromPlainKeys(answer));

/** A time only where its unit says so: a number alone is stops. */
function readStep(answer: string): ReadStrip['step'] {
  const time = timeFromPlainKeys(answer);
  return readField(fields.step, isTime(time) ? time : stopsFromPlainKeys(answer));
}

function readPatches(answer: string): number {
  const patches = /^\s*\d{1,2}\s*$/.test(answer) ? Number(answer) : 0;
  if (patches >= 2 && patches <= limits.stripPatches) return patches;
  throw new UnreadableText(`'${answer}' is not a whole number from 2 to ${limits.stripPatches}`);
}

/** What the printer does, and the file's word for it. */
const COVERS = { covered: 'cumulative', alone: 'separate' } as const;

function readCover(answer: string): ReadStrip['cover'] {
  const word = answer.trim().toLowerCase();
  const found = Object.entries(COVERS).find((names) => (names as string[]).includes(word));
  if (found !== undefined) return found[1];
  throw new UnreadableText(
    `'${answer}' is not a way to give a strip; write ${Object.keys(COVERS).join(' or ')}`,
  );
}

const readFilter = (answer: string) => (isNone(answer) ? '' : readField(fields.filter, literal(answer)));
const readNotes = (text: string) => readField(fields.notes, text);

function firstQuestion({ first }: ReadStrip): Question<number> {
  return {
    key: 'first',
    ask: 'Lightest patch',
    ready: formatTime(first),
    help: 'What the lightest patch gets: 2s, 2 or 2.5; a number alone is seconds; without signs: 2point5.',
    read: readFirst,
  };
}

/** Two patches show whether there is such a step at all: how many fit is asked for after it. */
function stepQuestion(before: ReadStrip, trial: (strip: ReadStrip) => void): Question<ReadStrip['step']> {
  const { step } = before;
  return {
    key: 'step',
    ask: 'Step from patch to patch',
    ready: 'equalMs' in step ? formatTime(step.equalMs) : formatStops(step.stops120).replace('+', ''),
    help: 'In stops: 1/2, 1 or 1/3; without signs: half, 1, third. Or as a time that each patch gets more: 5s.',
    read: (answer) => {
      const read = readStep(answer);
      trial({ ...before, step: read, patches: 2 });
      return read;
    },
  };
}

function coverQuestion({ cover }: ReadStrip): Question<ReadStrip['cover']> {
  return {
    key: 'cover',
    ask: 'Patches covered one by one, or each exposed alone',
    ready: cover === 'separate' ? 'alone' : 'covered',
    help: "'covered': all patches get the first exposure, and one more is covered before each next one.\n'alone': each patch gets its whole exposure at once, the others covered.",
    read: readCover,
  };
}

function patchesQuestion(before: ReadStrip, trial: (strip: ReadStrip) => void): Question<number> {
  return {
    key: 'patches',
    ask: 'Patches',
    ready: String(before.patches),
    help: `How many patches, 2 to ${limits.stripPatches}.`,
    read: (answer) => {
      const patches = readPatches(answer);
      trial({ ...before, patches });
      return patches;
    },
  };
}

function filterQuestion({ filter }: ReadStrip): Question<string> {
  return {
    key: 'filter',
    ask: 'Filter',
    ready: asAnswer(filter),
    help: `The filter as you call it, up to 8 characters, such as 2 or 00. '${NONE}' for none.`,
    read: readFilter,
  };
}
