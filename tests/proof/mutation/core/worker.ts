/** One process that tries mutants, one after another, as it is told to. */
import { join } from 'node:path';
import { createServer, createServerModuleRunner } from 'vite';
import { projectRoot } from '../../../../shared-protocol/project.js';
import type { Reach, Share, Trials } from './trials.js';

export type Order =
  | { reach: Share }
  | { use: readonly Reach[]; longestMs: number }
  | { try: string }
  | { equal: string };

const here = join(projectRoot, 'tests/proof/mutation/core');
const server = await createServer({
  root: projectRoot,
  configFile: false,
  logLevel: 'error',
  appType: 'custom',
  server: { middlewareMode: true, ws: false, watch: null, hmr: false },
  optimizeDeps: { noDiscovery: true },
  resolve: { alias: { vitest: join(here, 'vitest.ts') } },
});
// Tests that print what they found have nobody to read it here.
console.log = () => {};
const runner = createServerModuleRunner(server.environments.ssr, { hmr: false });
const { Trials: Loaded } = (await runner.import(join(here, 'trials.ts'))) as { Trials: typeof Trials };
const trials = new Loaded();
await trials.load();

// What a mutant leaves unfinished is not this process's failure.
process.on('unhandledRejection', () => {});
process.on('uncaughtException', () => {});

async function obey(order: Order): Promise<unknown> {
  if ('reach' in order) return await trials.reach(order.reach);
  if ('try' in order) return await trials.try(order.try);
  if ('equal' in order) return trials.isEqual(order.equal);
  return trials.use(order.use, order.longestMs);
}

process.on('message', async (order: Order) => {
  try {
    process.send?.({ answer: await obey(order) });
  } catch (error) {
    process.send?.({ failed: String((error as Error).stack ?? error) });
  }
});
process.on('disconnect', () => process.exit());
process.send?.('ready');
