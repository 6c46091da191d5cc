import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { join } from 'node:path';
import { projectRoot } from '../../../shared-protocol/project.js';
import { usualEnvironment } from './in-this-process.js';

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** The built command line, as the package's `bin` names it. */
export const treadlePath = join(projectRoot, 'dist/library/js/main.js');

export { treadleHere as treadle } from './in-this-process.js';

/** Runs `treadle` with these words in a process of its own, as a shell does. */
export function treadleAlone(
  words: readonly string[],
  input = '',
  environment: NodeJS.ProcessEnv = {},
  folder?: string,
): Promise<Ran> {
  const child = start(words, environment, folder);
  child.stdin.on('error', () => {});
  child.stdin.end(input);
  return outcomeOf(child);
}

/** Runs `treadle` until its output matches and what is to happen meanwhile is over, then interrupts it as Ctrl-C does. */
export function treadleUntil(
  words: readonly string[],
  pattern: RegExp,
  meanwhile: (out: string) => Promise<unknown> = async () => {},
  environment: NodeJS.ProcessEnv = {},
): Promise<Ran> {
  const child = start(words, environment);
  let out = '';
  let matched = false;
  child.stdout.on('data', (text) => {
    out += text;
    if (matched || !pattern.test(out)) return;
    matched = true;
    void meanwhile(out).finally(() => child.kill('SIGINT'));
  });
  return outcomeOf(child);
}

/** Runs `treadle`, and does something once its talk on standard error matches. */
export function treadleMeanwhile(
  words: readonly string[],
  pattern: RegExp,
  meanwhile: () => Promise<unknown>,
): Promise<Ran> {
  const child = start(words);
  let err = '';
  let matched = false;
  child.stderr.on('data', (text) => {
    err += text;
    if (matched || !pattern.test(err)) return;
    matched = true;
    void meanwhile();
  });
  return outcomeOf(child);
}

function start(
  words: readonly string[],
  environment: NodeJS.ProcessEnv = {},
  folder?: string,
): ChildProcessWithoutNullStreams {
  return spawn(process.execPath, [treadlePath, ...words], {
    env: { ...process.env, ...usualEnvironment, ...environment },
    ...(folder !== undefined && { cwd: folder }),
  });
}

function outcomeOf(child: ChildProcessWithoutNullStreams): Promise<Ran> {
  let out = '';
  let err = '';
  child.stdout.setEncoding('utf8').on('data', (text) => {
    out += text;
  });
  child.stderr.setEncoding('utf8').on('data', (text) => {
    err += text;
  });
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (code) => resolve({ code, out, err }));
  });
}
