/** `npm run soak`: worlds without end, or for so many minutes; one world again; or a wide exploration of the core. */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { projectRoot } from '../../../shared-protocol/project.js';
import { Random } from '../../setup/random.js';
import { actions, preparations } from '../exploration/actions.js';
import { explore, replay } from '../exploration/explore.js';
import { exploreInThreads } from '../exploration/explore-in-threads.js';
import { Violation } from '../exploration/explored-board.js';
import { exploredModule } from '../exploration/explored-core.js';
import { markedModule, reachedIn } from '../exploration/reached.js';
import { readOptions } from '../read-options.js';
import { TwoBoards } from '../rough/contact-chatter.js';
import { ringLaps } from '../rough/ring-laps.js';
import { roughDisk } from '../rough/rough-disk.js';
import { sleepingLaptop } from '../rough/sleeping-laptop.js';
import { simulatedBoards } from '../world/simulated-home.js';
import { Tally } from '../world/tally.js';
import { replayCommand, runWorld } from '../world/world.js';
import { ArchiveShelf } from '../world/world-archive.js';
import type { BoardKind } from '../world/world-board.js';

const USAGE =
  'npm run soak -- [--minutes N | --world SEED | --worlds N] [--board simulated|emulated|usb], or --states N [--reached], or --path ACTIONS, or --disk COMMAND|all [--every], or --edges N, or --laps N [--seed N], or --sleep; [--core FILE]';
/** Beyond the seeds that the tests use. */
const FIRST_SEED = 1_000_000;
const MINUTE_MS = 60_000;
const THREADS = availableParallelism();

const { values } = readOptions(USAGE, {
  options: {
    minutes: { type: 'string', default: '5' },
    board: { type: 'string', default: 'simulated' },
    world: { type: 'string' },
    worlds: { type: 'string' },
    core: { type: 'string' },
    states: { type: 'string' },
    path: { type: 'string' },
    reached: { type: 'boolean', default: false },
    disk: { type: 'string' },
    every: { type: 'boolean', default: false },
    edges: { type: 'string' },
    laps: { type: 'string' },
    seed: { type: 'string' },
    sleep: { type: 'boolean' },
  },
});

function numberOf(name: string, text: string): number {
  const value = Number(text);
  if (Number.isFinite(value) && value > 0) return value;
  console.error(`--${name} is '${text}'; give a number above 0: ${USAGE}`);
  return process.exit(2);
}

/** `--core` is another build of the core, for worlds with a guard taken out. */
async function boardKind(): Promise<BoardKind> {
  const { board, core } = values;
  if (board === 'emulated' || board === 'usb') {
    const { emulatedBoards, usbBoards } = await import('../world/emulated-home.js');
    return board === 'usb' ? usbBoards(core) : emulatedBoards(core);
  }
  if (board === 'simulated') return simulatedBoards(core === undefined ? undefined : compiled(core));
  console.error(`--board is '${board}'; it can be simulated, emulated or usb: ${USAGE}`);
  return process.exit(2);
}

function compiled(core: string): WebAssembly.Module {
  return new WebAssembly.Module(readFileSync(core));
}

const kind = await boardKind();
const MOST_SHOWN = 5;

async function oneWorld(seed: number): Promise<void> {
  const archives = new ArchiveShelf();
  const report = await runWorld(seed, archives, kind);
  await archives.close();
  console.log(JSON.stringify(report, undefined, 2));
  if (report.violations.length > 0) process.exitCode = 1;
}

/** Worlds from `firstSeed` on, as long as `goOn` says so. */
async function manyWorlds(firstSeed: number, goOn: (tally: Tally) => boolean): Promise<void> {
  const archives = new ArchiveShelf();
  const tally = new Tally();
  for (let seed = firstSeed; goOn(tally) && tally.violations.length < MOST_SHOWN; seed++) {
    const report = await runWorld(seed, archives, kind);
    tally.add(report);
    if (report.violations.length > 0)
      console.log(`${replayCommand(seed, kind.name)}\n  ${report.violations.join('\n  ')}`);
  }
  await archives.close();
  console.log(String(tally));
  if (tally.violations.length > 0) process.exitCode = 1;
}

function soak(minutes: number): Promise<void> {
  const endMs = performance.now() + minutes * MINUTE_MS;
  const firstSeed = FIRST_SEED + (Date.now() % FIRST_SEED) * 1000;
  return manyWorlds(firstSeed, () => performance.now() < endMs);
}

/** Of so many states, or one way through them again. */
async function exploration(work: (module: WebAssembly.Module) => void | Promise<void>): Promise<void> {
  try {
    await work(exploredModule(values.core));
  } catch (error) {
    if (!(error instanceof Violation)) throw error;
    console.log(error.message);
    process.exitCode = 1;
  }
}

const startMs = performance.now();
/** Of a processor as well: other programs are on the machine. */
const spent = () => {
  const { user, system } = process.cpuUsage();
  const seconds = (ms: number) => Math.round(ms / 1000);
  return `${seconds(performance.now() - startMs)} s, ${seconds((user + system) / 1000)} s of a processor, ${Math.round(process.memoryUsage.rss() / 1e6)} MB`;
};

async function exploreStates(count: number): Promise<void> {
  await exploration(async (module) => {
    const found = await exploreInThreads(module, count, THREADS, (states, depth) =>
      console.error(`${states} states, ${depth} actions deep: ${spent()}`),
    );
    console.log(JSON.stringify({ ...found, commit: commit() }, undefined, 2));
    console.log(`No violation in ${found.states} states: ${spent()}.`);
  });
}

/** By one walker: what of the core it ran through. */
function tellWhatIsReached(count: number): Promise<void> {
  return exploration(() => {
    let memory: WebAssembly.Memory | undefined;
    const found = explore(markedModule(), count, undefined, ({ core }) => {
      memory = core.memory as WebAssembly.Memory;
    });
    const { folders, functionsNever, linesNever } = reachedIn(memory!);
    console.log(`What ${found.states} states ran through, in lines of the core:`);
    for (const [folder, { lines, of }] of Object.entries(folders))
      console.log(`  ${folder}: ${lines} of ${of}`);
    console.log(`Functions never entered:\n  ${functionsNever.join('\n  ')}`);
    console.log(`Lines never reached:\n  ${linesNever.join('\n  ')}`);
  });
}

async function replayPath(names: readonly string[]): Promise<void> {
  const known = [...preparations, ...actions];
  const unknown = names.filter((name) => known.every((action) => action.name !== name));
  if (unknown.length === 0) {
    await exploration((module) => replay(module, names, (words) => console.log(words)));
    return;
  }
  const there = known.map(({ name }) => name).join(', ');
  console.error(`--path has '${unknown.join("', '")}', which is no action; there are: ${there}`);
  process.exitCode = 2;
}

const EDGES_TOLD = 5_000_000;

/** Two boards, one with contacts that chatter, until so many edges. */
function chatter(edges: number): void {
  const seed = Date.now() % FIRST_SEED;
  console.log(`seed ${seed}`);
  const boards = new TwoBoards(new Random(seed));
  for (let tellAt = EDGES_TOLD; boards.report.edges < edges; boards.row())
    if (boards.report.edges >= tellAt) {
      console.error(JSON.stringify(boards.report));
      tellAt += EDGES_TOLD;
    }
  console.log(JSON.stringify(boards.report));
}

/** What was explored; with changes that are not committed, it says so. */
function commit(): string {
  const git = spawnSync('git', ['describe', '--always', '--dirty'], { cwd: projectRoot, encoding: 'utf8' });
  return git.status === 0 ? git.stdout.trim() : 'unknown';
}

if (values.world !== undefined) await oneWorld(numberOf('world', values.world));
else if (values.states !== undefined) {
  const count = numberOf('states', values.states);
  await (values.reached ? tellWhatIsReached(count) : exploreStates(count));
} else if (values.edges !== undefined) chatter(numberOf('edges', values.edges));
else if (values.laps !== undefined) {
  const seed = values.seed === undefined ? Date.now() % FIRST_SEED : numberOf('seed', values.seed);
  console.log(`seed ${seed}`);
  const told = await ringLaps(seed, numberOf('laps', values.laps), (report) =>
    console.error(`${JSON.stringify(report)}: ${spent()}`),
  );
  console.log(`${JSON.stringify(told)}: ${spent()}`);
} else if (values.sleep) {
  if ((await sleepingLaptop(console.log)) > 0) process.exitCode = 1;
} else if (values.disk !== undefined) {
  const tell = (words: string) => console.log(`${words} (${spent()})`);
  if ((await roughDisk({ only: values.disk, isEvery: values.every }, tell)) > 0) process.exitCode = 1;
} else if (values.path !== undefined) await replayPath(values.path.split(', '));
else if (values.worlds !== undefined) {
  const count = numberOf('worlds', values.worlds);
  await manyWorlds(1, ({ worlds }) => worlds < count);
} else await soak(numberOf('minutes', values.minutes));
