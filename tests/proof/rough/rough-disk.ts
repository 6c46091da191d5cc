/**
 * Every command that writes is run again for calls by which it asks something of the disk, and that call fails, or the
 * program is killed before it. Afterwards the old or the new is there whole, and doing it again does it.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { dumpArchive } from './archive-dump.js';
import { type Chore, choresWith } from './chores.js';
import { type Beginning, makeBeginning, OLD, Place } from './place.js';
import {
  type DiskCall,
  type Fault,
  faultsOf,
  isStraceThere,
  recordCalls,
  run,
  runWithFault,
  type Struck,
} from './strace.js';

const TOLD_AFTER = 10;

/** What one chore leaves when nothing goes wrong, and what was there before. */
interface Expected {
  readonly before: readonly string[];
  readonly after: readonly string[];
  readonly content: string | undefined;
}

export interface RoughDisk {
  /** 'all', or what stands in the words of the commands to try. */
  readonly only: string;
  /** Whether every call, or the first and the last of those that are alike. */
  readonly isEvery: boolean;
}

/** Tells each chore and how far it is; answers how much was found wrong. */
export async function roughDisk(
  { only, isEvery }: RoughDisk,
  tell: (words: string) => void,
): Promise<number> {
  if (!isStraceThere()) {
    tell('skipped: strace is not there (Debian: apt-get install strace); it makes single calls fail');
    return 0;
  }
  const around = mkdtempSync(join(tmpdir(), 'treadle-rough-'));
  try {
    const beginning = await makeBeginning(around);
    let wrong = 0;
    for (const chore of choresWith(beginning.newer).filter(
      ({ words }) => only === 'all' || words.join(' ').includes(only),
    ))
      wrong += await tryChore(around, beginning, chore, isEvery, tell);
    return wrong;
  } finally {
    rmSync(around, { recursive: true });
  }
}

async function tryChore(
  around: string,
  beginning: Beginning,
  chore: Chore,
  isEvery: boolean,
  tell: (words: string) => void,
): Promise<number> {
  const place = new Place(around, chore);
  await place.begin(beginning);
  const before = rowsOf(place);
  const { calls, ran } = await recordCalls(place.program);
  if (ran.code !== 0) throw new Error(`treadle ${chore.words.join(' ')} ended with ${ran.code}: ${ran.err}`);
  const expected = { before, after: rowsOf(place), content: place.content };
  const name = `treadle ${chore.words.join(' ')}${chore.anew ? ' (no archive yet)' : ''}`;
  const chosen = isEvery ? calls : firstAndLast(calls);
  const places = new Set(calls.map((call) => call.place)).size;
  const faults = chosen.flatMap((call) => faultsOf(call).map((fault) => ({ call, fault })));
  tell(
    `${name}: ${calls.length} calls in ${places} places, ${faults.length} faults at ${chosen.length} of them`,
  );
  const counts = { missed: 0, tried: 0, wrong: 0 };
  for (const [at, { call, fault }] of faults.entries()) {
    if (at > 0 && at % TOLD_AFTER === 0) tell(`  ${at} of ${faults.length} are tried`);
    const found = await tryFault(place, beginning, chore, call, fault, expected);
    if (found === undefined) counts.missed++;
    else counts.tried++;
    if (found === undefined || found.length === 0) continue;
    counts.wrong++;
    tell(`  ${call.name} ${call.nth}, ${fault}: ${found.join('; ')}`);
  }
  place.end();
  tell(`  ${counts.tried} faults, ${counts.missed} that struck nothing, ${counts.wrong} wrong`);
  return counts.wrong;
}

/** Of the calls in one place: what fails at one of them fails alike at those between. */
function firstAndLast(calls: readonly DiskCall[]): DiskCall[] {
  const first = new Map([...calls].reverse().map((call) => [call.place, call]));
  const last = new Map(calls.map((call) => [call.place, call]));
  return calls.filter((call) => first.get(call.place) === call || last.get(call.place) === call);
}

/** What is wrong after one fault; undefined where it struck nothing of the folder. */
async function tryFault(
  place: Place,
  beginning: Beginning,
  chore: Chore,
  call: DiskCall,
  fault: Fault,
  expected: Expected,
): Promise<string[] | undefined> {
  const ran = await strike(place, beginning, call, fault);
  if (ran === undefined) return undefined;
  const found = [...wordsWrong(ran, fault), ...leftWrong(place, chore, call, fault, expected)];
  const again = await run(place.program);
  const isThere =
    place.file !== undefined && !chore.words.includes('--force') && place.content === expected.content;
  if (again.code !== 0 && !isThere) found.push(`done again it ends with ${again.code}: ${again.err}`);
  return [...found, ...endWrong(place, chore, expected)];
}

/** Node's own writes to wake its threads are sometimes one more or fewer: then the call beside is the one. */
async function strike(
  place: Place,
  beginning: Beginning,
  { name, nth }: DiskCall,
  fault: Fault,
): Promise<Struck | undefined> {
  for (const by of name === 'write' ? [0, -1, 1, -2, 2] : [0]) {
    await place.begin(beginning);
    const ran = await runWithFault(place.program, { name, nth: nth + by }, fault);
    if (ran.wasHit) return ran;
  }
  return undefined;
}

/** In words, and no mistake of the user's. */
function wordsWrong({ code, signal, err }: Struck, fault: Fault): string[] {
  if (fault === 'killed') return signal === 'SIGKILL' || code === 137 ? [] : [`not killed, but ${code}`];
  const found: string[] = [];
  if (/^ +at /m.test(err) || err.includes('should not have')) found.push(`a stack or no words: ${err}`);
  if (code === null) found.push(`ended by ${signal}`);
  if (code !== 0 && code !== 1) found.push(`exit code ${code}: ${err}`);
  if (code !== 0 && !/disk/.test(err)) found.push(`says nothing of the disk: ${err}`);
  return found;
}

function leftWrong(place: Place, chore: Chore, call: DiskCall, fault: Fault, expected: Expected): string[] {
  const found: string[] = [];
  const { content, litter } = place;
  if (content !== undefined && content !== OLD && content !== expected.content)
    found.push(`${chore.file} is neither the old nor the new: ${content.length} bytes`);
  if (content === undefined && chore.words.includes('--force') && chore.file !== undefined)
    found.push(`${chore.file} is gone`);
  if (litter.length > 0 && fault !== 'killed' && call.name !== 'unlink')
    found.push(`left behind: ${litter.join(', ')}`);
  return found;
}

/** What is there in the end: nothing of before lacks, and nothing of what was to come. */
function endWrong(place: Place, chore: Chore, { before, after, content }: Expected): string[] {
  const found: string[] = [];
  const now = new Set(rowsOf(place));
  const wanted = chore.atBoard ? [...before, ...after].filter((row) => !isOfMoment(row)) : after;
  const lacking = wanted.filter((row) => !now.has(row));
  if (lacking.length > 0) found.push(`${lacking.length} rows lack in the end, such as ${lacking[0]}`);
  if (!chore.atBoard)
    for (const row of now) if (!after.includes(row)) found.push(`one row more in the end: ${row}`);
  if (place.content !== content) found.push(`${chore.file} is not what it should be in the end`);
  return found;
}

/** Each time that a laptop is plugged in the board logs the time, and how many it logged is counted. */
function isOfMoment(row: string): boolean {
  return row.startsWith('quarter') || /^record .*"clock"/.test(row) || /^record .*,\d{13}\]$/.test(row);
}

function rowsOf(place: Place): string[] {
  return place.isArchiveThere ? dumpArchive(place.archive) : [];
}
