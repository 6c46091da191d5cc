import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import LibsqlDatabase from 'libsql';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import type { Section } from './page.js';

const SIZES = [10_000, 100_000, 1_000_000];
export const NIGHT_ENTRIES = 200;
const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;
const BOARD = '00000000000000a1';
const ROUNDS = 2;
const RECIPES = 60;

/** Commands, and what each is called in the table. */
const commands: readonly (readonly [string, readonly string[]])[] = [
  ['help alone', ['nights', '--help']],
  ['list of nights', ['nights']],
  ['one night', ['nights', '--night', 'last']],
  ['whole CSV', ['nights', '--csv']],
];

/** How time and memory of the commands that read an archive grow with it; each is a process of its own. */
export async function archiveGrowth(): Promise<Section> {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-bench-'));
  try {
    const rows: string[][] = [];
    for (const size of SIZES) {
      const file = join(folder, `${size}.sqlite`);
      await fill(file, size);
      for (const [what, words] of commands) rows.push([what, `${size}`, ...figuresOf(words, file, folder)]);
    }
    return {
      title: 'Archive, how it grows',
      about: `${NIGHT_ENTRIES} entries a night, one board; each command a process of its own, best of ${ROUNDS}.`,
      columns: ['command', 'entries', 'seconds', 'of them working', 'most memory, MB'],
      rows,
    };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Rows as the archive writes them: a sheet of four lights, over and over, of one recipe a night. */
export async function fill(file: string, size: number): Promise<void> {
  const archive = await openArchive(file);
  await archive.keepRecords(BOARD, 1, [
    { boot: 1, seq: 1, uptimeMs: 0, type: 'started', fields: [1, 1, 0, 'power', 0] },
  ]);
  await archive.close();
  const database = new LibsqlDatabase(file);
  const insert = database.prepare(
    `INSERT OR REPLACE INTO record (board, log, boot, seq, uptime_ms, type, fields, schema_hash, at_ms, collected_ms)
     VALUES (?, 1, ?, ?, ?, ?, ?, '00000000', ?, 0)`,
  );
  const fromMs = Date.UTC(2020, 5, 1, 19);
  database.transaction(() => {
    for (let at = 0; at < size; at++) insert.run(...rowOf(at, fromMs));
  })();
  database.close();
}

function rowOf(at: number, fromMs: number): (string | number)[] {
  const night = Math.floor(at / NIGHT_ENTRIES);
  const inNight = at % NIGHT_ENTRIES;
  const [boot, seq, uptimeMs] = [1 + night, at + 1, inNight * MINUTE_MS];
  const head = [boot, seq, uptimeMs];
  const recipe = `negative-${night % RECIPES}`;
  const light = [...head, 'base', recipe, 1, 0, '', '2', 12_500, 12_500, 12_500, 'complete', 0, inNight];
  const sheet = [...head, inNight, 'recipe', recipe, 1, 12_500, 0, 0, 0, 'cumulative'];
  const isSheet = inNight % 5 === 1;
  const atMs = fromMs + night * DAY_MS + uptimeMs;
  return [
    BOARD,
    boot,
    seq,
    uptimeMs,
    isSheet ? 'sheet' : 'exposure',
    JSON.stringify(isSheet ? sheet : light),
    atMs,
  ];
}

/** At its end the process says what it took at most; Node's own figures. */
const HOOK = `process.on('exit', () => {
  const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
  const figures = JSON.stringify({ maxRSS, cpu: userCPUTime + systemCPUTime });
  require('node:fs').writeFileSync(process.env.BENCH_FIGURES, figures);
});`;

function figuresOf(words: readonly string[], file: string, folder: string): [string, string, string] {
  const [figures, hook] = [join(folder, 'figures.json'), join(folder, 'hook.cjs')];
  writeFileSync(hook, HOOK);
  let best = { seconds: Number.POSITIVE_INFINITY, cpu: 0, maxRSS: 0 };
  for (let round = 0; round < ROUNDS; round++) {
    const from = performance.now();
    const { status, stderr } = spawnSync(
      process.execPath,
      [join(projectRoot, 'dist/host/cli/main.js'), ...words],
      {
        stdio: ['ignore', 'ignore', 'pipe'],
        env: {
          ...process.env,
          TREADLE_ARCHIVE: file,
          BENCH_FIGURES: figures,
          NODE_OPTIONS: `--require ${hook}`,
        },
      },
    );
    if (status !== 0) throw new Error(`treadle ${words.join(' ')} ended with ${status}: ${stderr}`);
    const seconds = (performance.now() - from) / 1000;
    if (seconds < best.seconds) best = { seconds, ...JSON.parse(readFileSync(figures, 'utf8')) };
  }
  return [best.seconds.toFixed(2), (best.cpu / 1e6).toFixed(2), (best.maxRSS / 1000).toFixed(0)];
}
