/** Words for people for what zod finds in a recipe file. */
import { z } from 'zod';
import { shapeSchema } from '../shape.js';
import type { PathPart } from './problem.js';

export interface FieldProblem {
  readonly path: readonly PathPart[];
  readonly message: string;
}

/** Everything that is wrong, in the file's order of fields as far as zod keeps it. */
export function fieldProblems(error: z.ZodError, value: unknown): FieldProblem[] {
  return error.issues
    .filter((issue) => !error.issues.some((other) => saysMore(other, issue, error.issues)))
    .flatMap((issue) => problemsOf(issue, value));
}

/** Of a value of the wrong kind zod goes on to tell the size, and of a number too large for it each bound that it is beyond. */
function saysMore(
  other: z.core.$ZodIssue,
  issue: z.core.$ZodIssue,
  all: readonly z.core.$ZodIssue[],
): boolean {
  if (other === issue || issue.code === 'unrecognized_keys' || !isSamePath(other.path, issue.path))
    return false;
  if (other.code === 'invalid_type') return issue.code !== 'invalid_type';
  const isBound = other.code === 'too_big' || other.code === 'too_small';
  return isBound && other.code === issue.code && all.indexOf(other) > all.indexOf(issue);
}

function isSamePath(one: readonly PropertyKey[], other: readonly PropertyKey[]): boolean {
  return one.length === other.length && one.every((part, at) => part === other[at]);
}

/** For `error` of zod's parse functions: names the fields that there are, which the issue itself does not. */
export function fieldWords(issue: z.core.$ZodRawIssue): string | undefined {
  if (issue.code !== 'unrecognized_keys' || !(issue.inst instanceof z.ZodObject)) return undefined;
  return `there is no such field; the fields here are ${Object.keys(issue.inst.shape).join(', ')}`;
}

function problemsOf(issue: z.core.$ZodIssue, value: unknown): FieldProblem[] {
  const path = issue.path as PathPart[];
  if (issue.code === 'unrecognized_keys')
    return issue.keys.map((key) => ({ path: [...path, key], message: issue.message }));
  const given = valueAt(value, path);
  if (given === undefined) return [{ path, message: 'this field is missing' }];
  const message = words(issue);
  // A text that could not be read is quoted by whoever tried.
  const quoted = typeof given === 'string' && message.startsWith(`'${given}'`);
  return [{ path, message: quoted ? message : `${message}; given was ${shown(given)}` }];
}

function words(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      return `must be ${typeWords[issue.expected] ?? issue.expected}`;
    case 'invalid_union':
      return `must be ${choice(issue.path.includes('shape') ? shapeKinds : passKinds)}`;
    case 'invalid_value':
      return `must be ${choice(issue.values.map(String))}`;
    case 'too_big':
      return `must be at most ${issue.maximum}${unitWords[issue.origin] ?? ''}`;
    case 'too_small':
      if (issue.minimum === 1 && issue.origin in unitWords) return 'must not be empty';
      return `must be at least ${issue.minimum}${unitWords[issue.origin] ?? ''}`;
    default:
      return issue.message;
  }
}

const passKinds = ['base', 'burn'];
const shapeKinds = shapeSchema.options.map((option) => option.shape.kind.value);

/** "'base' or 'burn'". */
function choice(words: readonly string[]): string {
  const quoted = words.map((word) => `'${word}'`);
  return [quoted.slice(0, -1).join(', '), ...quoted.slice(-1)].filter((part) => part !== '').join(' or ');
}

const typeWords: Record<string, string> = {
  string: 'a text in double quotes',
  number: 'a number',
  int: 'a whole number',
  object: 'a set of fields in { }',
  array: 'a list in [ ]',
};

const unitWords: Record<string, string> = { string: ' characters long', array: ' entries long' };

function valueAt(value: unknown, path: readonly PathPart[]): unknown {
  return path.reduce<unknown>((at, part) => (at as Record<PathPart, unknown> | undefined)?.[part], value);
}

function shown(value: unknown): string {
  const text = JSON.stringify(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}
