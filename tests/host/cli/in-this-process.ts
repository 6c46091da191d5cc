import { Readable, Writable } from 'node:stream';
import { run } from './packaged-run.js';
import type { Ran } from './treadle.js';

interface CommandLine {
  readonly words: readonly string[];
  readonly input: string;
  readonly environment: NodeJS.ProcessEnv;
  readonly folder: string | undefined;
}

/** As a script would have it: no colours, and times as the tests tell them. */
export const usualEnvironment: NodeJS.ProcessEnv = { NO_COLOR: '1', TZ: 'UTC' };

/** What belongs to the process is one command's at a time: whoever comes meanwhile waits. */
let last: Promise<unknown> = Promise.resolve();

/**
 * What the package does with a command line, in the process of the test: a process of its own costs 0.3 s each time for
 * Node and the packages that it reads. Streams, folder, environment and exit code are put in place and taken back.
 * `every-command.test.ts` holds that the same comes of it in a process of its own.
 */
export function treadleHere(
  words: readonly string[],
  input = '',
  environment: NodeJS.ProcessEnv = {},
  folder?: string,
): Promise<Ran> {
  const line = { words, input, environment: { ...usualEnvironment, ...environment }, folder };
  const ran = last.then(() => carryOut(line));
  last = ran.catch(() => {});
  return ran;
}

async function carryOut({ words, input, environment, folder }: CommandLine): Promise<Ran> {
  const out = new Gathered();
  const err = new Gathered();
  const restore = [
    putStream('stdout', out),
    putStream('stderr', err),
    putStream('stdin', Readable.from([Buffer.from(input)])),
    putEnvironment(environment),
    putFolder(folder),
    putExitCode(),
  ];
  try {
    return { code: await run(words), out: out.text, err: err.text };
  } finally {
    for (const undo of restore.reverse()) undo();
  }
}

class Gathered extends Writable {
  readonly #pieces: Buffer[] = [];

  override _write(piece: Buffer, _encoding: BufferEncoding, done: () => void): void {
    this.#pieces.push(piece);
    done();
  }

  get text(): string {
    return Buffer.concat(this.#pieces).toString('utf8');
  }
}

function putStream(name: 'stdin' | 'stdout' | 'stderr', stream: Readable | Writable): () => void {
  const own = Object.getOwnPropertyDescriptor(process, name)!;
  Object.defineProperty(process, name, { ...{ configurable: true, enumerable: true }, value: stream });
  return () => void Object.defineProperty(process, name, own);
}

function putEnvironment(environment: NodeJS.ProcessEnv): () => void {
  const before = { ...process.env };
  const put = (name: string, value: string | undefined) => {
    if (value === undefined) delete process.env[name];
    else process.env[name] = value;
  };
  for (const [name, value] of Object.entries(environment)) put(name, value);
  return () => {
    for (const name of Object.keys(environment)) put(name, before[name]);
  };
}

function putFolder(folder: string | undefined): () => void {
  const before = process.cwd();
  if (folder !== undefined) process.chdir(folder);
  return () => process.chdir(before);
}

function putExitCode(): () => void {
  const before = process.exitCode;
  process.exitCode = undefined;
  return () => {
    process.exitCode = before;
  };
}
