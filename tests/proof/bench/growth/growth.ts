import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Section } from '../page.js';
import { growArchive, NIGHT_ENTRIES, type Size } from './grown-archive.js';
import { keepLongRun } from './long-run.js';
import { type Took, timeCommand, timeWork } from './time-command.js';
import { type Work, works } from './works.js';

const SIZES = (process.env.TREADLE_ENTRIES ?? '1000,10000,100000,1000000').split(',').map(Number);
const RECIPES = (process.env.TREADLE_RECIPES ?? '10,100,1000,10000').split(',').map(Number);
/** As many as a board holds. */
const RUNS = [400, 4000, 40_000];
const ENTRIES_OF_RECIPES = 10_000;
const RECIPES_OF_ENTRIES = 60;
/** What the archive is that grows. */
const nights = `${NIGHT_ENTRIES} entries a night, of one board`;
const archiveOf = {
  entries: `${nights}, ${RECIPES_OF_ENTRIES} recipes, a remark on each`,
  recipes: `${nights}, ${ENTRIES_OF_RECIPES} entries, a remark on each recipe`,
  'entries of one run': 'A board that was on for days, and its log is collected for the first time',
};
type What = keyof typeof archiveOf;
/** Less than this is not told from what disturbs a process. */
const SEEN_S = 0.05;

/** How the time of everything that touches an archive grows with its log, and with its recipes. */
export async function growth(): Promise<Section[]> {
  return [
    await section('entries', SIZES, (entries) => ({ entries, recipes: RECIPES_OF_ENTRIES })),
    await section('recipes', RECIPES, (recipes) => ({ entries: ENTRIES_OF_RECIPES, recipes })),
    await runs(),
  ];
}

async function runs(): Promise<Section> {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-bench-'));
  const work: Work = {
    what: 'collect all of one run, the time told last',
    run: (file, { entries }) => keepLongRun(file, entries),
  };
  const took: Took[] = [];
  try {
    for (const entries of RUNS) {
      took.push(await timeOf(work, join(folder, 'run.sqlite'), { entries, recipes: 0 }, folder));
      tell('entries of one run', RUNS, work, took);
    }
    return page('entries of one run', RUNS, [work], new Map([[work.what, took]]));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function section(
  what: What,
  counts: readonly number[],
  sizeOf: (count: number) => Size,
): Promise<Section> {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-bench-'));
  try {
    const all = works(join(folder, 'night.html'));
    const took = new Map(all.map((work) => [work.what, [] as Took[]]));
    for (const count of counts) {
      const [file, size] = [join(folder, `${count}.sqlite`), sizeOf(count)];
      await growArchive(file, size);
      for (const work of all) {
        const own = took.get(work.what)!;
        own.push(await timeOf(work, file, size, folder));
        tell(what, counts, work, own);
      }
      rmSync(file);
    }
    return page(what, counts, all, took);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** As soon as it is known: the largest archives take minutes. */
function tell(what: What, counts: readonly number[], { what: work }: Work, own: readonly Took[]): void {
  const seconds = own.map((took) => took.seconds);
  const grows = own.length < counts.length ? '' : `, exponent ${exponent(counts, seconds)}`;
  console.error(`${counts[own.length - 1]} ${what}: ${work} ${seconds.at(-1)!.toFixed(3)} s${grows}`);
}

async function timeOf(work: Work, file: string, size: Size, folder: string): Promise<Took> {
  if ('words' in work) return timeCommand(work.words, file, folder);
  return timeWork(() => work.run(file, size));
}

function page(
  what: What,
  counts: readonly number[],
  all: readonly Work[],
  took: ReadonlyMap<string, readonly Took[]>,
): Section {
  return {
    title: `Archive, how it grows with its ${what}`,
    about:
      `${archiveOf[what]}; ` +
      'commands are processes of their own, the rest runs in this one; seconds of a processor, the least of two, of what is quick of five. The exponent is that of ' +
      `the last two steps; where the last is below ${SEEN_S} s, none is seen, and below ten times that none can be told. Goal: 1 at worst.`,
    columns: ['what', ...counts.map((count) => `${count} ${what}, s`), 'exponent', 'most memory, MB'],
    rows: all.map((work) => {
      const own = took.get(work.what)!;
      const memory = own.at(-1)!.memoryMb;
      return [
        work.what,
        ...own.map(({ seconds }) => seconds.toFixed(3)),
        exponent(
          counts,
          own.map(({ seconds }) => seconds),
        ),
        Number.isNaN(memory) ? '' : memory.toFixed(0),
      ];
    }),
  };
}

/**
 * What is always there is in none of the differences between three sizes, each so many times the one before. What grows by the
 * size grows so much less in the step before that this is not seen where the last step is small.
 */
function exponent(counts: readonly number[], seconds: readonly number[]): string {
  const [one, two, three] = seconds.slice(-3) as [number, number, number];
  const times = counts.at(-1)! / counts.at(-2)!;
  if (!(three - two >= SEEN_S)) return 'none seen';
  if (three - two < SEEN_S * times) return 'too quick to tell';
  return (Math.log((three - two) / Math.max(two - one, SEEN_S / times)) / Math.log(times)).toFixed(1);
}
