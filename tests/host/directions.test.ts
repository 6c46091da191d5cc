import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { projectRoot } from '../../shared-protocol/project.js';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-directions-'));
  cpSync(join(projectRoot, 'biome.json'), join(folder, 'biome.json'));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** What the check's linter says of files with these imports, in a project that has nothing else. */
function lint(files: Readonly<Record<string, string>>): string {
  for (const [path, imports] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), `import '${imports}';\n`);
  }
  const biome = join(projectRoot, 'node_modules/@biomejs/biome/bin/biome');
  const { stdout, stderr } = spawnSync(process.execPath, [biome, 'lint', '.'], {
    cwd: folder,
    encoding: 'utf8',
  });
  for (const path of Object.keys(files)) rmSync(join(folder, path));
  return stdout + stderr;
}

describe('the check', () => {
  it('lets pass what goes down', () => {
    const said = lint({
      'host/cli/commands/a.ts': '../../board/index.js',
      'host/board/link/b.ts': '../../recipe/recipe.js',
      'host/recipe/c.ts': '../errors.js',
      'host/desk/page/d.ts': '../../board/sim/core-board.js',
    });
    expect(said).toMatch(/Checked \d+ files/);
    expect(said).not.toMatch(/lint\//);
  });

  it('finds every arrow upwards', () => {
    const upwards = {
      'host/recipe/baths/a.ts': '../../board/errors.js',
      'host/darkroom/b.ts': '../pages/index.js',
      'host/pages/map/c.ts': '../../daylight/dry-down.js',
      'host/records/d.ts': '../daylight/advice.js',
      'host/evening/e.ts': '../cli/main.js',
      'host/desk/server/i.ts': '../../cli/main.js',
      'host/board/sim/j.ts': '../../desk/index.js',
      'host/f.ts': './recipe/recipe.js',
      'host/files/g.ts': '../recipe/recipe.js',
      'shared-protocol/h.ts': '../host/errors.js',
    };
    const said = lint(upwards);
    for (const path of Object.keys(upwards))
      expect(said.replaceAll('\\', '/')).toContain(`${path}:1:8 lint/style/noRestrictedImports`);
  });

  it('finds a circle', () => {
    const said = lint({ 'host/recipe/a.ts': './b.js', 'host/recipe/b.ts': './a.js' });
    expect(said.match(/lint\/suspicious\/noImportCycles/g)).toHaveLength(2);
  });
});
