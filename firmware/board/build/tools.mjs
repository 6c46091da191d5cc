import { spawnSync } from 'node:child_process';

/** Runs a tool of the chain; what it says on failure is the error. Returns what it printed. */
export function run(tool, args, cwd) {
  const result = spawnSync(tool, args, { encoding: 'utf8', maxBuffer: 1 << 28, cwd });
  if (result.error) throw result.error;
  if (result.status !== 0) throw new Error(`${tool} failed:\n${result.stderr}${result.stdout}`);
  return result.stdout;
}

/** Those of `tools` that cannot be run here. */
export function missingTools(tools) {
  return tools.filter((tool) => spawnSync(tool, ['--version'], { stdio: 'ignore' }).error !== undefined);
}
