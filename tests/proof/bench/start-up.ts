import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { projectRoot } from '../../../shared-protocol/project.js';
import { bestMs, type Section, times } from './page.js';

const ROUNDS = 15;

/** How long the command line takes to say what it can do, beside Node's own start. */
export async function startUp(): Promise<Section> {
  const main = join(projectRoot, 'dist/host/cli/main.js');
  const [helpMs, bareMs] = (await bestMs(
    ROUNDS,
    () => run([main, '--help']),
    () => run(['-e', '0']),
  )) as [number, number];
  const row = (what: string, tookMs: number) => [what, tookMs.toFixed(0), times(tookMs / bareMs)];
  return {
    title: 'Start-up',
    about: `Best of ${ROUNDS}, taking turns. Goal: at most 3 times.`,
    columns: ['program', 'milliseconds', 'times Node alone'],
    rows: [row('treadle --help', helpMs), row('node -e 0', bareMs)],
  };
}

function run(args: readonly string[]): void {
  const { status, stderr } = spawnSync(process.execPath, args, { encoding: 'utf8' });
  if (status !== 0) throw new Error(`${args.join(' ')}: ${stderr}`);
}
