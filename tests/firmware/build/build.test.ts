import { spawnSync } from 'node:child_process';
import {
  appendFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { projectRoot } from '../../../shared-protocol/project.js';

const builtFrom = [
  'firmware',
  'host',
  'shared-protocol',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'asconfig.json',
  'dist/compiled-cores',
];

/** Left by builds from when there still were modules of these names, and a compiled proof of then. */
const leftOvers = ['dist/host/gone.js', 'dist/gone/index.d.ts', 'dist/proof/tests/gone.js'];
/** Kept for what they were made from: the board's images and cores that tests compiled. */
const keepsakes = ['dist/image/treadle.bin', 'dist/image-probe/stamp', 'dist/tested-cores/0123.wasm'];

let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-build-'));
  for (const path of builtFrom) cpSync(join(projectRoot, path), join(folder, path), { recursive: true });
  symlinkSync(join(projectRoot, 'node_modules'), join(folder, 'node_modules'));
  for (const path of [...leftOvers, ...keepsakes]) write(path, '');
  expect(run('build.mjs')).toBe('');
});

afterAll(() => rmSync(folder, { recursive: true }));

function write(path: string, text: string): void {
  mkdirSync(dirname(join(folder, path)), { recursive: true });
  writeFileSync(join(folder, path), text);
}

/** What a script of the build in the copy has to complain about. */
function run(script: string, ...args: string[]): string {
  const { stdout, stderr } = spawnSync(process.execPath, [join(folder, 'firmware/build', script), ...args], {
    encoding: 'utf8',
  });
  return stdout + stderr;
}

const check = () => run('stamp.mjs', '--check');

describe('a build', () => {
  test('takes away what modules left that are no more, and keeps what others made', () => {
    for (const path of leftOvers) expect(existsSync(join(folder, path)), path).toBe(false);
    for (const path of keepsakes) expect(existsSync(join(folder, path)), path).toBe(true);
    expect(existsSync(join(folder, 'dist/core.wasm'))).toBe(true);
  });

  // 'npx treadle' said 'Permission denied' after a second build: npm makes the command executable only as it installs it.
  test.skipIf(process.platform === 'win32')('leaves the command so that it can be run', () => {
    const command = join(folder, 'dist/library/js/main.js');
    expect(statSync(command).mode & 0o111).toBe(0o111);
  });

  test('stands as it is until a source or an output changes, which is named', () => {
    expect(check()).toBe('');

    appendFileSync(join(folder, 'dist/host/index.js'), '// edited\n');
    expect(check()).toBe("dist/host/index.js is not what the build wrote: run 'npm run build'\n");
    cpSync(join(projectRoot, 'dist/host/index.js'), join(folder, 'dist/host/index.js'));
    expect(check()).toBe('');

    write('dist/host/extra.js', '');
    expect(check()).toBe("dist/host/extra.js is not what the build wrote: run 'npm run build'\n");
    rmSync(join(folder, 'dist/host/extra.js'));

    rmSync(join(folder, 'dist/core.wasm'));
    expect(check()).toBe("dist/core.wasm is not what the build wrote: run 'npm run build'\n");
    cpSync(join(projectRoot, 'dist/core.wasm'), join(folder, 'dist/core.wasm'));

    appendFileSync(join(folder, 'firmware/board/generated/limits.h'), '/* edited */\n');
    expect(check()).toContain('firmware/board/generated/limits.h is not what the build wrote');

    appendFileSync(join(folder, 'host/index.ts'), '// changed\n');
    expect(check()).toBe(
      "dist/ was not built from these sources: host/index.ts differs: run 'npm run build'\n",
    );
  });

  test('that fails leaves nothing behind that tests would run', () => {
    appendFileSync(join(folder, 'host/index.ts'), 'const number: string = 1;\n');
    expect(run('build.mjs')).toContain('host/index.ts');
    expect(check()).toBe("dist/ was not built to its end: run 'npm run build'\n");
  });
});
