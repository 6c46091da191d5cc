/** `npm run soak`: worlds without end, or for so many minutes; one world again; or a wide exploration of the core. */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { explore } from '../exploration/explore.js';
import { Violation } from '../exploration/explored-board.js';
import { exploredModule } from '../exploration/explored-core.js';
import { Tally } from '../world/tally.js';
import { replayCommand, runWorld } from '../world/world.js';
import { ArchiveShelf } from '../world/world-archive.js';

const USAGE = 'npm run soak -- [--minutes N] [--world SEED] [--worlds N] [--states N] [--core FILE]';
/** Beyond the seeds that the tests use. */
const FIRST_SEED = 1_000_000;
const MINUTE_MS = 60_000;

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '5' },
    world: { type: 'string' },
    worlds: { type: 'string' },
    core: { type: 'string' },
    states: { type: 'string' },
  },
});

function numberOf(name: string, text: string): number {
  const value = Number(text);
  if (Number.isFinite(value) && value > 0) return value;
  console.error(`--${name} is '${text}'; give a number above 0: ${USAGE}`);
  return process.exit(2);
}

/** Another build of the core, for worlds with a guard taken out. */
const core = values.core === undefined ? undefined : new WebAssembly.Module(readFileSync(values.core));
const MOST_SHOWN = 5;

async function oneWorld(seed: number): Promise<void> {
  const archives = new ArchiveShelf();
  const report = await runWorld(seed, archives, core);
  archives.close();
  console.log(JSON.stringify(report, undefined, 2));
  if (report.violations.length > 0) process.exitCode = 1;
}

/** Worlds from `firstSeed` on, as long as `goOn` says so. */
async function manyWorlds(firstSeed: number, goOn: (tally: Tally) => boolean): Promise<void> {
  const archives = new ArchiveShelf();
  const tally = new Tally();
  for (let seed = firstSeed; goOn(tally) && tally.violations.length < MOST_SHOWN; seed++) {
    const report = await runWorld(seed, archives, core);
    tally.add(report);
    if (report.violations.length > 0)
      console.log(`${replayCommand(seed)}\n  ${report.violations.join('\n  ')}`);
  }
  archives.close();
  console.log(String(tally));
  if (tally.violations.length > 0) process.exitCode = 1;
}

function soak(minutes: number): Promise<void> {
  const endMs = performance.now() + minutes * MINUTE_MS;
  const firstSeed = FIRST_SEED + (Date.now() % FIRST_SEED) * 1000;
  return manyWorlds(firstSeed, () => performance.now() < endMs);
}

function exploreStates(count: number): void {
  try {
    console.log(JSON.stringify(explore(exploredModule(values.core), count), undefined, 2));
  } catch (error) {
    if (!(error instanceof Violation)) throw error;
    console.log(error.message);
    process.exitCode = 1;
  }
}

if (values.world !== undefined) await oneWorld(numberOf('world', values.world));
else if (values.states !== undefined) exploreStates(numberOf('states', values.states));
else if (values.worlds !== undefined) {
  const count = numberOf('worlds', values.worlds);
  await manyWorlds(1, ({ worlds }) => worlds < count);
} else await soak(numberOf('minutes', values.minutes));
