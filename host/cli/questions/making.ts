/** From answers or settings to a written file, the same for every kind of file. */
import { existsSync } from 'node:fs';
import { changedFileText, type InFile, newFileText } from '../../recipe/reading/changed-file.js';
import { readOption } from '../read-options.js';
import { readAs } from '../read-own-file.js';
import { print, printJson, remark } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';
import { checkNewFile, writeChangedFile, writeNewFile } from '../write-new-file.js';
import { agree, fileQuestion } from './agreeing.js';
import type { Answers } from './answers.js';
import { answersAtTheTerminal } from './at-a-terminal.js';
import { conduct } from './conduct.js';
import { answersInFile } from './in-a-file.js';
import type { Kind } from './kind.js';
import { ask, type Interview } from './question.js';

export interface MakingOptions {
  readonly answers?: string;
  readonly set?: readonly string[];
  readonly output?: string;
  readonly force?: true;
  readonly json?: true;
}

/** Somebody is asked at the terminal, and nothing was handed over by a script. */
export function isAsking({ answers, set }: MakingOptions): boolean {
  return answers === undefined && set === undefined;
}

/**
 * A new file, from what is usual or `start`.
 * @param from how it came about: said before the first question
 * @returns what was written
 */
export async function makeNew<Value>(
  kind: Kind<Value>,
  options: MakingOptions,
  start: Value = kind.usual,
  from?: string,
): Promise<Value> {
  const { output, force } = options;
  const over = force === true;
  if (output !== undefined) await checkNewFile(output, over);
  const { value, path } = await (options.set === undefined
    ? asked(options, () => newByQuestions(kind, start, output, over), from)
    : newBySettings(kind, start, options.set, output));
  await writeNewFile(path, newFileText(kind, value), over);
  tell(kind, value, options, from === undefined ? {} : { from });
  remark(`${kind.called(value)} is in ${path}.`);
  return value;
}

function* newByQuestions<Value>(
  kind: Kind<Value>,
  start: Value,
  output: string | undefined,
  over: boolean,
): Interview<{ value: Value; path: string }> {
  const value = yield* kind.questions(start);
  const path = output ?? (yield* ask(fileQuestion(freeName(kind.fileName(value)), over)));
  yield* agree(kind.account(value).words, path);
  return { value, path };
}

/** 'slipway.json', or 'slipway2.json' where that is there. */
function freeName(name: string): string {
  for (let number = 1; ; number++) {
    const path = `${name}${number === 1 ? '' : number}.json`;
    if (!existsSync(path)) return path;
  }
}

async function newBySettings<Value>(
  kind: Kind<Value>,
  start: Value,
  settings: readonly string[],
  output: string | undefined,
): Promise<{ value: Value; path: string }> {
  const value = kind.complete(withSettings(kind, start, settings));
  return { value, path: output ?? `${kind.fileName(value)}.json` };
}

/** A file changed, in its place or as another. */
export async function makeChange<Value>(
  kind: Kind<Value>,
  path: string,
  bytes: Uint8Array,
  options: MakingOptions,
): Promise<void> {
  const { output, force } = options;
  if (output !== undefined) await checkNewFile(output, force === true);
  const before = readAs(path, bytes, kind.read);
  const target = output ?? path;
  const changed = await (options.set === undefined
    ? asked(options, () => changeByQuestions(kind, before, target))
    : changeOf(kind, before, kind.complete(withSettings(kind, before, options.set))));
  const { value, changes } = changed;
  if (changes.length === 0) {
    if (options.json) tell(kind, value, options, { changes });
    return remark('Nothing was changed, and nothing written.');
  }
  const text = changedFileText(inFile(kind), new TextDecoder().decode(bytes), before, value);
  // Somebody may have had it open in an editor meanwhile.
  if (output === undefined) await writeChangedFile(path, text, bytes, '<recipe>');
  else await writeNewFile(output, text, force === true);
  tell(kind, value, options, { changes });
  remark(`${kind.called(value)} is in ${target}.`);
}

interface Changed<Value> {
  readonly value: Value;
  readonly changes: readonly string[];
}

function changeOf<Value>(kind: Kind<Value>, before: Value, after: Value): Changed<Value> {
  const changes = kind.changes(before, after);
  return { value: changes.length === 0 ? before : kind.revise(before, after), changes };
}

function* changeByQuestions<Value>(
  kind: Kind<Value>,
  before: Value,
  path: string,
): Interview<Changed<Value>> {
  const changed = changeOf(kind, before, yield* kind.questions(before));
  if (changed.changes.length > 0)
    yield* agree([kind.account(changed.value).words, changed.changes.join('\n')].join('\n\n'), path);
  return changed;
}

/** How a kind's files are read from their text. */
function inFile<Value>(kind: Kind<Value>): InFile<Value> {
  return { read: (text) => kind.read(new TextEncoder().encode(text)), file: kind.file };
}

async function asked<Result>(
  { answers: path }: MakingOptions,
  start: () => Interview<Result>,
  from?: string,
): Promise<Result> {
  const answers: Answers = path === undefined ? answersAtTheTerminal() : await answersInFile(path);
  if (from !== undefined) answers.say(from);
  return conduct(start, answers);
}

function withSettings<Value>(kind: Kind<Value>, start: Value, settings: readonly string[]): Value {
  return settings.reduce((value, setting) => {
    const [, name, answer] = /^([^=]+)=(.+)$/s.exec(setting) ?? [];
    if (name === undefined || answer === undefined)
      throw new UsageError(`--set: '${setting}' is not name=value, such as sky=+1/2`);
    return readOption(`--set ${name.trim()}`, answer, (text) => kind.set(value, name, text));
  }, start);
}

/** How it came to what it is. */
interface Story {
  readonly from?: string;
  readonly changes?: readonly string[];
}

/** At a terminal the account was shown before it was agreed to. */
function tell<Value>(kind: Kind<Value>, value: Value, options: MakingOptions, story: Story): void {
  const { words, data } = kind.account(value);
  const { from, changes = [] } = story;
  if (options.json) printJson({ ...data, ...story });
  else if (!isAsking(options))
    print([words, from, changes.join('\n')].filter((part) => part !== undefined && part !== '').join('\n\n'));
}
