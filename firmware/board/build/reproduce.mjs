/**
 * Builds core and image twice, from copies of these sources in folders of unlike names, and compares them byte for byte:
 * nothing of where, when or by whom they were built may be in them. `npm run reproduce`, about a minute.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const projectFolder = resolve(fileURLToPath(import.meta.url), '../../../..');
const compared = ['dist/core.wasm', 'dist/image/treadle.uf2'];

/** What git has, so that nothing built before comes along. */
function sources() {
  const { stdout, status } = spawnSync('git', ['ls-files', '-z'], { cwd: projectFolder, encoding: 'utf8' });
  if (status !== 0) throw new Error('this asks git which files are sources: run it in a clone');
  return stdout.split('\0').filter((path) => path !== '' && !path.startsWith('tests/'));
}

function buildIn(folder, paths) {
  mkdirSync(folder, { recursive: true });
  for (const path of paths) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    cpSync(join(projectFolder, path), join(folder, path));
  }
  symlinkSync(join(projectFolder, 'node_modules'), join(folder, 'node_modules'));
  for (const script of ['firmware/build/build.mjs', 'firmware/board/build/image.mjs']) {
    const { status, stdout, stderr } = spawnSync(process.execPath, [script], {
      cwd: folder,
      encoding: 'utf8',
    });
    if (status !== 0) throw new Error(`${script} failed in ${folder}:\n${stdout}${stderr}`);
  }
}

const hashOf = (path) => createHash('sha256').update(readFileSync(path)).digest('hex');

const scratch = mkdtempSync(join(tmpdir(), 'treadle-twice-'));
try {
  const folders = [join(scratch, 'one'), join(scratch, 'quite', 'another folder')];
  const paths = sources();
  for (const folder of folders) buildIn(folder, paths);
  for (const path of compared) {
    const [one, other] = folders.map((folder) => hashOf(join(folder, path)));
    console.log(`${path}  ${one}`);
    if (one !== other) throw new Error(`${path} differs between two builds of the same sources: ${other}`);
  }
} catch (error) {
  console.error(error.message);
  process.exitCode = 1;
} finally {
  rmSync(scratch, { recursive: true });
}
