import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../../../shared-protocol/project.js';

/** What is quick is disturbed most. */
const QUICK_S = 0.5;
const ROUNDS = 2;
const ROUNDS_OF_QUICK = 5;
const roundsOf = (seconds: number) => (seconds < QUICK_S ? ROUNDS_OF_QUICK : ROUNDS);

export interface Took {
  /** Of a processor working: how busy the machine is with other things does not count. */
  readonly seconds: number;
  readonly memoryMb: number;
}

/** At its end the process says what it took; Node's own figures. */
const HOOK = `process.on('exit', () => {
  const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
  const figures = { seconds: (userCPUTime + systemCPUTime) / 1e6, memoryMb: maxRSS / 1000 };
  require('node:fs').writeFileSync(process.env.BENCH_FIGURES, JSON.stringify(figures));
});`;

/** What the quicker of some runs of a command took, as a process of its own. */
export function timeCommand(words: readonly string[], archive: string, folder: string): Took {
  const [figures, hook] = [join(folder, 'figures.json'), join(folder, 'hook.cjs')];
  writeFileSync(hook, HOOK);
  const environment = {
    ...{ ...process.env, TREADLE_ARCHIVE: archive, XDG_DATA_HOME: folder },
    ...{ BENCH_FIGURES: figures, NODE_OPTIONS: `--require ${hook}` },
  };
  let best = { seconds: Number.POSITIVE_INFINITY, memoryMb: 0 };
  for (let round = 0; round < roundsOf(best.seconds); round++) {
    const { status, stderr } = spawnSync(
      process.execPath,
      [join(projectRoot, 'dist/library/js/main.js'), ...words],
      { stdio: ['ignore', 'ignore', 'pipe'], env: environment },
    );
    if (status !== 0) throw new Error(`treadle ${words.join(' ')} ended with ${status}: ${stderr}`);
    const took = JSON.parse(readFileSync(figures, 'utf8')) as Took;
    if (took.seconds < best.seconds) best = took;
  }
  return best;
}

/** The same of work in this process. */
export async function timeWork(work: () => Promise<unknown>): Promise<Took> {
  let seconds = Number.POSITIVE_INFINITY;
  for (let round = 0; round < roundsOf(seconds); round++) {
    const before = process.cpuUsage();
    await work();
    const { user, system } = process.cpuUsage(before);
    seconds = Math.min(seconds, (user + system) / 1e6);
  }
  return { seconds, memoryMb: Number.NaN };
}
