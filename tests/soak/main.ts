/** `npm run soak`: worlds without end, or for so many minutes; one world again; or a wide exploration of the core. */
import { parseArgs } from 'node:util';
import { explore } from '../exploration/explore.js';
import { exploredModule } from '../exploration/explored-core.js';
import { Tally } from '../world/tally.js';
import { replayCommand, runWorld } from '../world/world.js';
import { ArchiveShelf } from '../world/world-archive.js';

const USAGE = 'npm run soak -- [--minutes N] [--world SEED] [--states N]';
/** Beyond the seeds that the tests use. */
const FIRST_SEED = 1_000_000;
const MINUTE_MS = 60_000;

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '5' },
    world: { type: 'string' },
    states: { type: 'string' },
  },
});

function numberOf(name: string, text: string): number {
  const value = Number(text);
  if (Number.isFinite(value) && value > 0) return value;
  console.error(`--${name} is '${text}'; give a number above 0: ${USAGE}`);
  return process.exit(2);
}

async function oneWorld(seed: number): Promise<void> {
  const archives = new ArchiveShelf();
  const report = await runWorld(seed, archives);
  archives.close();
  console.log(JSON.stringify(report, undefined, 2));
  if (report.violations.length > 0) process.exitCode = 1;
}

async function manyWorlds(minutes: number): Promise<void> {
  const archives = new ArchiveShelf();
  const tally = new Tally();
  const endMs = performance.now() + minutes * MINUTE_MS;
  for (let seed = FIRST_SEED + (Date.now() % FIRST_SEED) * 1000; performance.now() < endMs; seed++) {
    const report = await runWorld(seed, archives);
    tally.add(report);
    if (report.violations.length > 0)
      console.log(`${replayCommand(seed)}\n  ${report.violations.join('\n  ')}`);
  }
  archives.close();
  console.log(String(tally));
  if (tally.violations.length > 0) process.exitCode = 1;
}

if (values.world !== undefined) await oneWorld(numberOf('world', values.world));
else if (values.states !== undefined)
  console.log(JSON.stringify(explore(exploredModule(), numberOf('states', values.states)), undefined, 2));
else await manyWorlds(numberOf('minutes', values.minutes));
