/** The questions that make a row of baths, and what `--set` may name in it. */
import { limits } from '../../../../shared-protocol/limits.js';
import {
  bathProblems,
  bathsFile,
  formatAreaCm2,
  formatBathTime,
  type ReadBath,
  type ReadBaths,
} from '../../../recipe/baths/index.js';
import { readField } from '../../../recipe/reading/read-field.js';
import { timeFromPlainKeys } from '../../../recipe/text/plain-keys.js';
import { UnreadableText } from '../../../recipe/text/unreadable-text.js';
import { ask, type Interview, type Question } from '../question.js';
import type { Settable } from '../settable.js';
import { asAnswer, HOW_TO_QUOTE, isNone, literal, NONE } from '../wording.js';
import { askTemperatures, isAskedForTemperatures, temperatureSettable } from './temperature-questions.js';

const fields = bathsFile.shape.baths.element.shape;
const TIMES = ['resinCoated', 'fibre', 'drain', 'agitation'] as const;
type TimeField = (typeof TIMES)[number];

/** The baths in their order: those that were there, then others until there are no more. */
export function* askBaths(before: readonly ReadBath[]): Interview<ReadBath[]> {
  const baths: ReadBath[] = [];
  for (let index = 0; baths.length < limits.baths; index++) {
    const known = before[index];
    const label = yield* ask(labelQuestion(known, index, baths));
    if (label === '' && known === undefined) break;
    if (label !== '') baths.push(yield* askBath({ ...known, label }, index, baths));
  }
  return baths;
}

function* askBath(before: ReadBath, index: number, earlier: readonly ReadBath[]): Interview<ReadBath> {
  let bath = before;
  for (const field of TIMES) {
    const fits = (seconds: number | undefined) =>
      refuseProblem(earlier, { ...bath, [field]: seconds }, field);
    bath = { ...bath, [field]: yield* ask(timeQuestion(field, before, index, fits)) };
  }
  if (isAskedForTemperatures(before, earlier.length === 0))
    bath = yield* askTemperatures(before, bath, index);
  return { ...bath, limit: yield* ask(limitQuestion(before, index)) };
}

/** What the times so far cannot be together; of those that follow nothing is known yet. */
function refuseProblem(earlier: readonly ReadBath[], bath: ReadBath, field: TimeField): void {
  if (field === 'resinCoated') return;
  const so = field === 'fibre' ? { ...bath, drain: undefined } : bath;
  const [problem] = bathProblems([...earlier, so]);
  if (problem !== undefined) throw new UnreadableText(problem.message);
}

function labelQuestion(
  known: ReadBath | undefined,
  index: number,
  earlier: readonly ReadBath[],
): Question<string> {
  return {
    key: `${index}.bath`,
    ask: index === 0 ? 'First bath' : known === undefined ? 'Another bath' : 'Next bath',
    ready: known === undefined ? (earlier.length === 0 ? undefined : NONE) : asAnswer(known.label),
    help: `The bath's name, as the display will show it, up to 16 characters, such as: fixer. '${NONE}' ${known === undefined ? 'when there is no other' : 'takes it out'}.\n${HOW_TO_QUOTE}`,
    read: (answer) => readLabel(answer, known, earlier),
  };
}

function readLabel(answer: string, known: ReadBath | undefined, earlier: readonly ReadBath[]): string {
  const label = isNone(answer) ? '' : readField(fields.label, literal(answer));
  if (label === '' && known === undefined && earlier.length === 0)
    throw new UnreadableText('a row needs a bath; write its name');
  if (earlier.some((bath) => bath.label === label))
    throw new UnreadableText(`there is a bath '${label}' already; give each its own name`);
  return label;
}

const TIME_WORDS: Record<TimeField, { ask: string; help: string }> = {
  resinCoated: {
    ask: 'resin-coated paper',
    help: 'From the data sheet, draining included; without it, that paper skips this bath.',
  },
  fibre: {
    ask: 'fibre paper',
    help: 'From the data sheet, draining included; without it, that paper skips this bath.',
  },
  drain: { ask: 'draining', help: 'The part of the time at its end, in which the paper drains.' },
  agitation: { ask: 'agitation every', help: 'From one agitation to the next; without it none is called.' },
};

function timeQuestion(
  field: TimeField,
  before: ReadBath,
  index: number,
  fits: (seconds: number | undefined) => void,
): Question<number | undefined> {
  const seconds = before[field];
  const words = TIME_WORDS[field];
  return {
    key: `${index}.${field}`,
    ask: `'${before.label}', ${words.ask}`,
    ready: seconds === undefined ? NONE : formatBathTime(seconds),
    help: `${words.help}\nWith its unit: 90s, 1m30s, 1h. '${NONE}' for none.`,
    read: (answer) => {
      const read = readBathSeconds(field, answer);
      fits(read);
      return read;
    },
  };
}

function readBathSeconds(field: TimeField, answer: string): number | undefined {
  return isNone(answer) ? undefined : readField(fields[field].unwrap(), timeFromPlainKeys(answer));
}

function limitQuestion({ label, limit }: ReadBath, index: number): Question<number | undefined> {
  return {
    key: `${index}.limit`,
    ask: `'${label}', used up by`,
    ready: limit === undefined ? NONE : formatAreaCm2(limit),
    help: `How much paper uses it up, by its data sheet: 20000cm2, 2m2 or 40 x 8x10in; '${NONE}' for no limit.`,
    read: readLimit,
  };
}

function readLimit(answer: string): number | undefined {
  return isNone(answer) ? undefined : readField(fields.limit.unwrap(), answer);
}

/** A time by temperature, which is named by bath, temperature and paper: 'developer.20C.fibre'; undefined for others. */
export function setTemperature(row: ReadBaths, name: string, answer: string): ReadBaths | undefined {
  const dot = name.indexOf('.');
  const called = name.slice(0, Math.max(dot, 0)).trim().toLowerCase();
  const at = row.baths.findIndex(
    ({ label }, index) => label.toLowerCase() === called || String(index + 1) === called,
  );
  const set = at < 0 ? undefined : temperatureSettable(row.baths[at]!, name.slice(dot + 1));
  return set && { ...row, baths: row.baths.toSpliced(at, 1, set(answer)) };
}

/** A bath by its label or number, and each of its times: 'fixer.fibre'. */
export function bathSettables(row: ReadBaths): Settable<ReadBaths>[] {
  return row.baths.flatMap((bath, at) => {
    const become = (...baths: ReadBath[]) => ({ ...row, baths: row.baths.toSpliced(at, 1, ...baths) });
    const names = (field: string) => [bath.label, String(at + 1)].map((name) => `${name}.${field}`);
    return [
      { names: [bath.label, String(at + 1)], set: (answer: string) => become(...renamed(bath, answer)) },
      ...TIMES.map((field) => ({
        names: names(field),
        set: (answer: string) => become({ ...bath, [field]: readBathSeconds(field, answer) }),
      })),
      { names: names('limit'), set: (answer: string) => become({ ...bath, limit: readLimit(answer) }) },
    ];
  });
}

/** Another name, or none for a bath that goes. */
function renamed(bath: ReadBath, answer: string): ReadBath[] {
  return isNone(answer) ? [] : [{ ...bath, label: readField(fields.label, literal(answer)) }];
}
