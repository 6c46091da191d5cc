import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { rolldown } from 'rolldown';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { coreUrl } from '../../host/core/load-core.js';
import { projectRoot } from '../../shared-protocol/project.js';

/** As much as any of it may weigh, minified; today's figures are about a fifth below. */
const kilobytes = {
  'host/errors.ts': 1,
  'host/darkroom/paper/paper.ts': 5,
  'host/darkroom/picture/render.ts': 16,
  'host/recipe/planner/index.ts': 120,
  'host/recipe/index.ts': 180,
  'shared-protocol/index.ts': 135,
  'host/index.ts': 180,
  'host/board/sim/core-board.ts': 150,
} as const;
type Entry = keyof typeof kilobytes;

/** What nobody may ask of a strict page: text made into code. */
const codeFromText = /\bnew Function\b|\beval\s*\(|\bFunction\s*\(/;

/** The entry and all it brings, as one file for a page; and what it imports beside. */
async function bundle(entry: Entry): Promise<{ code: string; imports: readonly string[] }> {
  const build = await rolldown({
    input: join(projectRoot, entry),
    platform: 'browser',
    external: /^node:/,
    onLog: () => {},
  });
  const { output } = await build.generate({ format: 'esm', minify: true, codeSplitting: false });
  await build.close();
  const [{ code, imports, dynamicImports }] = output;
  return { code, imports: [...imports, ...dynamicImports] };
}

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-page-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** What a program prints that imports the bundle where no text may become code, as under a content security policy. */
function runStrictly(code: string, program: string): string {
  const file = join(folder, 'bundle.mjs');
  writeFileSync(file, code);
  const script = `const library = await import('${pathToFileURL(file)}');\n${program}`;
  return execFileSync(
    process.execPath,
    ['--disallow-code-generation-from-strings', '--input-type=module', '-e', script],
    { encoding: 'utf8' },
  ).trim();
}

describe('for a page', () => {
  it.each(Object.keys(kilobytes) as Entry[])(
    '%s needs nothing of Node and is no larger than it may be',
    async (entry) => {
      const { code, imports } = await bundle(entry);
      expect(imports.filter((name) => name.startsWith('node:') || builtinModules.includes(name))).toEqual([]);
      expect(code.length / 1000).toBeLessThan(kilobytes[entry]);
    },
  );

  it.each(['host/darkroom/paper/paper.ts', 'host/darkroom/picture/render.ts'] as const)(
    '%s makes no code of text',
    async (entry) => {
      expect((await bundle(entry)).code).not.toMatch(codeFromText);
    },
  );

  it('the protocol writes and reads a line where no text may become code', async () => {
    const { code } = await bundle('shared-protocol/index.ts');
    const program =
      "const line = library.encodeLine({ type: 'forget', id: 7, uptoSeq: 12 });\n" +
      'console.log(JSON.stringify(library.decodeLine(line.trimEnd())));';
    expect(JSON.parse(runStrictly(code, program))).toEqual({
      ok: true,
      message: { type: 'forget', id: 7, uptoSeq: 12 },
    });
  });

  it('a recipe is read, and planned by the core that was handed over', async () => {
    const { code } = await bundle('host/index.ts');
    const program =
      "import { readFileSync } from 'node:fs';\n" +
      `library.provideCore(new WebAssembly.Module(readFileSync(new URL('${coreUrl}'))));\n` +
      'process.getBuiltinModule = undefined;\n' +
      "const recipe = library.readRecipe(JSON.stringify({ title: 'Jetty', base: '10s', passes: [{ kind: 'base' }] }));\n" +
      'console.log(library.loadPlanner().planRecipe(recipe).totalMs);';
    expect(runStrictly(code, program)).toBe('10000');
  });
});
