/** What a program asks of the disk, call by call, and what becomes of it when one of them fails or is its last. */
import { spawn, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

/** Each changes what is on the disk, or sees to it that it is there. */
const CALLS = ['write', 'pwrite64', 'ftruncate', 'fsync', 'fdatasync', 'unlink', 'rename', 'link', 'mkdir'];
/** What a full disk refuses, and a failing one does. */
const takesRoom = new Set(['write', 'pwrite64', 'rename', 'link', 'mkdir']);

/** Commands take seconds; what waits for so long waits for ever. */
const LIMIT_MS = 300_000;

/** A call, by what it is and how many of its kind its thread has asked for: the same each time that the program runs. */
export interface DiskCall {
  readonly name: string;
  readonly nth: number;
  /** Its file, and what is asked just before and after it: where these are alike, the same is under way. */
  readonly place: string;
}

type Call = Pick<DiskCall, 'name' | 'nth'>;
export type Fault = 'ENOSPC' | 'EIO' | 'killed';

export interface Program {
  readonly command: readonly string[];
  readonly environment: NodeJS.ProcessEnv;
  /** Only calls about files in it are looked at. */
  readonly folder: string;
  /** Outside of it. */
  readonly logFile: string;
}

export interface Ran {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly err: string;
}

export interface Struck extends Ran {
  /** Whether the call that was to fail was one about the folder. */
  readonly wasHit: boolean;
}

export const isStraceThere = () => spawnSync('strace', ['--version']).status === 0;

export function faultsOf({ name }: DiskCall): Fault[] {
  return takesRoom.has(name) ? ['ENOSPC', 'EIO', 'killed'] : ['EIO', 'killed'];
}

/** Runs the program undisturbed. */
export async function recordCalls(
  program: Program,
): Promise<{ readonly calls: DiskCall[]; readonly ran: Ran }> {
  const ran = await run(program, strace(program, []));
  const counts = new Map<string, number>();
  const asked = linesOf(program).map(({ thread, name, line }) => {
    const nth = (counts.get(`${thread} ${name}`) ?? 0) + 1;
    counts.set(`${thread} ${name}`, nth);
    return { name, nth, file: fileIn(program, line) };
  });
  const ours = asked.filter(({ file }) => file !== undefined);
  const what = ours.map(({ name, file }) => `${name} ${file}`);
  const calls = new Map<string, DiskCall>();
  for (const [at, { name, nth }] of ours.entries())
    calls.set(`${name} ${nth}`, { name, nth, place: [what[at - 1], what[at], what[at + 1]].join(', ') });
  return { calls: [...calls.values()], ran };
}

/** Which file of the folder a call is about; what is random in its name does not count. */
function fileIn({ folder }: Program, line: string): string | undefined {
  const at = line.indexOf(folder);
  if (at < 0) return undefined;
  return /^[^">]*/.exec(line.slice(at + folder.length))![0].replaceAll(/[0-9a-f]{4,}/g, '#');
}

/** Runs it, and one call fails, or is never made. */
export async function runWithFault(program: Program, call: Call, fault: Fault): Promise<Struck> {
  const what = fault === 'killed' ? 'signal=KILL' : `error=${fault}`;
  const ran = await run(program, strace(program, ['-e', `inject=${call.name}:${what}:when=${call.nth}`]));
  const hit = linesOf(program).filter(({ line }) => /\(INJECTED\)|<unfinished \.\.\.>$| = \?$/.test(line));
  return { ...ran, wasHit: hit.some(({ line }) => line.includes(program.folder)) };
}

function strace({ logFile }: Program, inject: readonly string[]): string[] {
  const trace = ['-f', '-y', '-qq', '-s', '0', '-o', logFile, '-e', `trace=${CALLS.join(',')}`];
  return ['strace', ...trace, ...inject];
}

/** Undisturbed, and behind the words of another program if there are any. */
export async function run({ command, environment }: Program, behind: readonly string[] = []): Promise<Ran> {
  const [name = '', ...words] = [...behind, ...command];
  const child = spawn(name, words, {
    stdio: ['ignore', 'ignore', 'pipe'],
    detached: true,
    // One thread for all files, so that each call has its number.
    env: { ...process.env, ...environment, NO_COLOR: '1', TZ: 'UTC', UV_THREADPOOL_SIZE: '1' },
  });
  let err = '';
  child.stderr.setEncoding('utf8').on('data', (text) => {
    err += text;
  });
  const limit = setTimeout(() => {
    err += `not over after ${LIMIT_MS} ms`;
    process.kill(-child.pid!, 'SIGTERM');
  }, LIMIT_MS);
  const [code, signal] = await new Promise<[number | null, NodeJS.Signals | null]>((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (...ended) => resolve(ended));
  });
  clearTimeout(limit);
  return { code, signal, err };
}

function linesOf({ logFile }: Program): { thread: string; name: string; line: string }[] {
  return readFileSync(logFile, 'utf8')
    .split('\n')
    .flatMap((line) => {
      const [, thread, name] = /^(\d+) +(\w+)\(/.exec(line) ?? [];
      return thread !== undefined && name !== undefined ? [{ thread, name, line }] : [];
    });
}
