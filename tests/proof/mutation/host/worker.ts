/** One process that tries changes of a part of the host, one after another: `area number,number,... part-of-path`: these are put in. */
import { join, relative } from 'node:path';
import { createServer, createServerModuleRunner } from 'vite';
import type { ModuleRunner } from 'vite/module-runner';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { GOES_ON_EACH_MS, type Told } from './answer-of.js';
import { type HostMutant, mutantsOf } from './areas.js';
import { switched } from './changes.js';
import type { HostTrials, HostVerdict, Place, Reach } from './trials.js';

const [area = '', numbers = '', only = ''] = process.argv.slice(2);
const asked = new Set(numbers.split(',').map(Number));
const mutants = mutantsOf(area).filter(({ number }) => asked.has(number));

const server = await createServer({
  root: projectRoot,
  configFile: false,
  logLevel: 'error',
  appType: 'custom',
  server: { middlewareMode: true, ws: false, watch: null, hmr: false },
  optimizeDeps: { noDiscovery: true },
  oxc: { target: 'node20' },
  resolve: {
    alias: [
      { find: 'vitest', replacement: join(projectRoot, 'tests/proof/mutation/core/vitest.ts') },
      // The package would run as it was built, without the changes.
      { find: /^.*\/packaged-run\.js$/, replacement: join(projectRoot, 'host/cli/run.ts') },
    ],
  },
  plugins: [{ name: 'changes', enforce: 'pre', transform: (source, id) => withChanges(source, id, mutants) }],
});

function withChanges(source: string, id: string, all: readonly HostMutant[]): string | undefined {
  const file = relative(projectRoot, id);
  const those = all.filter((mutant) => mutant.file === file);
  return those.length === 0 ? undefined : switched(source, those);
}

console.log = () => {};
const tell = (told: Told) => void process.send?.(told);
setInterval(() => tell({ goesOn: true }), GOES_ON_EACH_MS).unref();

/** A file of tests as it is when it is read for the first time; what it imports stays. */
function anew(runner: ModuleRunner): (file: string) => Promise<unknown> {
  return (file) => {
    const read = runner.evaluatedModules.getModulesByFile(file) ?? [];
    for (const module of read) runner.evaluatedModules.invalidateModule(module);
    return runner.import(file);
  };
}

/** Everything loaded anew, with one change from the first line on, or with none. */
async function anewWith(change?: number): Promise<HostTrials> {
  const runner = createServerModuleRunner(server.environments.ssr, { hmr: false });
  const path = join(projectRoot, 'tests/proof/mutation/host/trials.ts');
  const { HostTrials: Loaded } = (await runner.import(path)) as { HostTrials: typeof HostTrials };
  return new Loaded(anew(runner), (at) => tell({ at }), change);
}

const trials = await anewWith();
await trials.load(area, only);
// What a change leaves unfinished is not this process's failure.
process.on('unhandledRejection', () => {});
process.on('uncaughtException', () => {});

async function verdictOn(number: number): Promise<HostVerdict> {
  if (!trials.isOfLoading(number)) return trials.try(number);
  const { file } = mutants.find((mutant) => mutant.number === number)!;
  const near = new Set(mutants.filter((mutant) => mutant.file === file).map((mutant) => mutant.number));
  try {
    return await (await anewWith(number)).tryThese(trials.placesOf(near));
  } finally {
    trials.takeOver();
  }
}

/** First what an earlier process measured, or that there was none; then each change, or a check without any. */
process.once('message', async (reach: readonly Reach[] | 'measure') => {
  if (reach === 'measure') await trials.measure(area, only);
  else trials.take(reach);
  process.on('message', async (order: number | Place) => {
    tell({ answer: typeof order === 'number' ? await verdictOn(order) : await trials.passes(order) });
  });
  tell({ answer: trials.reach });
});
process.on('disconnect', () => process.exit());
tell({ answer: 'loaded' });
