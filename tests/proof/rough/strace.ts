/** What a program asks of the disk, call by call, and what becomes of it when one of them fails or is its last. */
import { spawn, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

/** Each changes what is on the disk, or sees to it that it is there. */
const CALLS = ['write', 'pwrite64', 'ftruncate', 'fsync', 'fdatasync', 'unlink', 'rename', 'link', 'mkdir'];
/** What a full disk refuses, and a failing one does. */
const takesRoom = new Set(['write', 'pwrite64', 'rename', 'link', 'mkdir']);

/** A call, by what it is and how many of its kind its thread has asked for: the same each time that the program runs. */
export interface DiskCall {
  readonly name: string;
  readonly nth: number;
}

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
  const ran = await run(program, []);
  const counts = new Map<string, number>();
  const calls = new Map<string, DiskCall>();
  for (const { thread, name, line } of linesOf(program)) {
    const nth = (counts.get(`${thread} ${name}`) ?? 0) + 1;
    counts.set(`${thread} ${name}`, nth);
    if (line.includes(program.folder)) calls.set(`${name} ${nth}`, { name, nth });
  }
  return { calls: [...calls.values()], ran };
}

/** Runs it, and one call fails, or is never made. */
export function runWithFault(program: Program, { name, nth }: DiskCall, fault: Fault): Promise<Ran> {
  const what = fault === 'killed' ? 'signal=KILL' : `error=${fault}`;
  return run(program, ['-e', `inject=${name}:${what}:when=${nth}`]);
}

async function run(program: Program, inject: readonly string[]): Promise<Ran> {
  const { command, environment, logFile } = program;
  const trace = ['-f', '-y', '-qq', '-s', '0', '-o', logFile, '-e', `trace=${CALLS.join(',')}`];
  const child = spawn('strace', [...trace, ...inject, ...command], {
    stdio: ['ignore', 'ignore', 'pipe'],
    // One thread for all files, so that each call has its number.
    env: { ...process.env, ...environment, NO_COLOR: '1', TZ: 'UTC', UV_THREADPOOL_SIZE: '1' },
  });
  let err = '';
  child.stderr.setEncoding('utf8').on('data', (text) => {
    err += text;
  });
  const [code, signal] = await new Promise<[number | null, NodeJS.Signals | null]>((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (...ended) => resolve(ended));
  });
  const lines = linesOf(program);
  const hit = lines.filter(({ line }) => /\(INJECTED\)|<unfinished \.\.\.>$| = \?$/.test(line));
  return { code, signal, err, wasHit: hit.some(({ line }) => line.includes(program.folder)) };
}

function linesOf({ logFile }: Program): { thread: string; name: string; line: string }[] {
  return readFileSync(logFile, 'utf8')
    .split('\n')
    .flatMap((line) => {
      const [, thread, name] = /^(\d+) +(\w+)\(/.exec(line) ?? [];
      return thread !== undefined && name !== undefined ? [{ thread, name, line }] : [];
    });
}
