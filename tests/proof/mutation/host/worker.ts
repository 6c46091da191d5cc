/** One process that tries changes of a part of the host, one after another: `area number,number,... part-of-path`: these are put in. */
import { join, relative } from 'node:path';
import { createServer, createServerModuleRunner } from 'vite';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { type HostMutant, mutantsOf } from './areas.js';
import { switched } from './changes.js';
import type { HostTrials, HostVerdict } from './trials.js';

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
  resolve: { alias: { vitest: join(projectRoot, 'tests/proof/mutation/core/vitest.ts') } },
  plugins: [{ name: 'changes', enforce: 'pre', transform: (source, id) => withChanges(source, id, mutants) }],
});

function withChanges(source: string, id: string, all: readonly HostMutant[]): string | undefined {
  const file = relative(projectRoot, id);
  const those = all.filter((mutant) => mutant.file === file);
  return those.length === 0 ? undefined : switched(source, those);
}

console.log = () => {};
/** Everything loaded anew, with one change from the first line on, or with none. */
async function loaded(change?: number): Promise<HostTrials> {
  const runner = createServerModuleRunner(server.environments.ssr, { hmr: false });
  const path = join(projectRoot, 'tests/proof/mutation/host/trials.ts');
  const { HostTrials: Loaded } = (await runner.import(path)) as { HostTrials: typeof HostTrials };
  const trials = new Loaded(change);
  await trials.load(area, only);
  return trials;
}

const trials = await loaded();
// What a change leaves unfinished is not this process's failure.
process.on('unhandledRejection', () => {});
process.on('uncaughtException', () => {});
await trials.measure();

async function verdictOn(number: number): Promise<HostVerdict> {
  if (!trials.isOfLoading(number)) return trials.try(number);
  const { file } = mutants.find((mutant) => mutant.number === number)!;
  const near = new Set(mutants.filter((mutant) => mutant.file === file).map((mutant) => mutant.number));
  try {
    return await (await loaded(number)).tryThese(trials.namesOf(near));
  } catch (error) {
    return { is: 'noticed', by: 'loading it', said: String(error).slice(0, 200) };
  } finally {
    trials.takeOver();
  }
}

process.on('message', async (number: number) => process.send?.(await verdictOn(number)));
process.on('disconnect', () => process.exit());
process.send?.({ is: 'ready' });
