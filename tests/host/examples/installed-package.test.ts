import { type ExecFileSyncOptions, execFileSync, spawnSync } from 'node:child_process';
import { cpSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readFirmwareImage } from '../../../host/board/flash/firmware-image.js';
import { schemaHash, version } from '../../../shared-protocol/index.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { boardTestsRun } from '../../firmware/board/rig/requirements.js';
import { packingMs, UnpackedPackage } from '../../setup/unpacked-package.js';

const quietly: ExecFileSyncOptions = { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] };
const IMAGE = 'dist/image/treadle.uf2';

let unpacked: UnpackedPackage;
let folder: string;
let packed: readonly string[];
const installed = () => unpacked.installed;

beforeAll(() => {
  unpacked = new UnpackedPackage();
  folder = unpacked.folder;
  packed = unpacked.files;
}, packingMs);
afterAll(() => unpacked.remove());

describe('the packed library', () => {
  it('has at most 200 files, and neither tests, sources, source maps nor the build’s own tools among them', () => {
    expect(packed.length).toBeLessThanOrEqual(200);
    const odd = packed.filter((path) =>
      /(^|\/)(tests?|proof|generate|firmware)\/|\.(map|test\.\w+|tsbuildinfo|wat)$|(?<!\.d)\.ts$/.test(path),
    );
    expect(odd).toEqual([]);
    expect(packed).toEqual(
      expect.arrayContaining(['LICENSE', 'README.md', 'dist/core.wasm', 'dist/recipe.schema.json']),
    );
  });

  it.runIf(boardTestsRun)("has the board's image, and it is the one of this version", () => {
    expect(packed).toContain(IMAGE);
    const image = readFirmwareImage(readFileSync(join(installed(), IMAGE)));
    expect(image).toMatchObject({ version, schemaHash });
  });

  it('needs no file of ours that was not packed', () => {
    expect(existsSync(join(installed(), 'asconfig.json'))).toBe(false);
    expect(readdirSync(installed()).sort()).toEqual(
      ['LICENSE', 'README.md', 'dist', 'hardware-notes', 'host', 'package.json'].sort(),
    );
  });

  it('reads a recipe, prints its timeline, sends it to a board and collects the log', () => {
    cpSync(join(projectRoot, 'host/examples/read-plan-send-collect.mjs'), join(folder, 'example.mjs'));
    const recipe = join(projectRoot, 'host/evening/boathouse.json');
    const said = String(
      execFileSync(process.execPath, ['example.mjs', recipe, join(folder, 'archive.sqlite')], {
        ...quietly,
        cwd: folder,
      }),
    );
    expect(said).toMatch(/: hold back \w+.*, [\d.]+s\n/);
    expect(said).toMatch(
      /\nboard [0-9a-f]{16} keeps 'boathouse' version 1\n\d+ ms: started\n(\d+ ms: \w+\n)*$/,
    );
  });

  it('has its command', () => {
    const said = execFileSync(
      process.execPath,
      [unpacked.command, 'timeline', join(projectRoot, 'host/evening/boathouse.json')],
      quietly,
    );
    expect(String(said)).toContain('sky');
  });

  const offline = `
    import { loadPlanner, readRecipe, type Recipe, RecipeError, type RecipePlan } from 'treadle';
    import { magnificationFactor } from 'treadle/daylight';
    export function plan(text: string): RecipePlan | undefined {
      try {
        const recipe: Recipe = readRecipe(text);
        return loadPlanner().planRecipe(recipe);
      } catch (error) {
        if (error instanceof RecipeError) return undefined;
        throw error;
      }
    }
    export const factor: number = magnificationFactor(2, 5);
  `;
  const online = `
    import { readRecipe, toBoardRecipe } from 'treadle';
    import { collectIntoArchive, type LogEntry, logEntries, openArchive } from 'treadle/archive';
    import { BoardLostError, openBoard } from 'treadle/board';
    import { nightPage } from 'treadle/pages';
    import { boathouseNegative, type Negative } from 'treadle/pictures';
    import { SimulatedBoard } from 'treadle/sim';
    export async function send(text: string): Promise<string> {
      const board = await openBoard(new SimulatedBoard().plug());
      await board.sendRecipe(toBoardRecipe(readRecipe(text)));
      await collectIntoArchive(await openArchive('archive.sqlite'), board);
      return board.id;
    }
    export const negative: Negative = boathouseNegative(8);
    export const named = [BoardLostError, logEntries, nightPage] as const;
    export type Entry = LogEntry;
  `;
  it.each([
    ['without any types of its surroundings', offline, []],
    ['with those of Node', online, ['node']],
  ])('is type-checked by who uses it, %s', (_how, source, types) => {
    writeFileSync(join(folder, 'use.ts'), source);
    const options = {
      ...{ target: 'ES2023', lib: ['ES2023'], module: 'NodeNext', moduleResolution: 'NodeNext', types },
      ...{ strict: true, noEmit: true, skipLibCheck: false },
    };
    writeFileSync(
      join(folder, 'tsconfig.json'),
      JSON.stringify({ compilerOptions: options, files: ['use.ts'] }),
    );
    const tsc = join(projectRoot, 'node_modules/typescript/bin/tsc');
    const { stdout } = spawnSync(process.execPath, [tsc, '-p', folder], { cwd: folder, encoding: 'utf8' });
    // What is wrong in the types of other packages, such as zod's with no URL, is for their users to pass over.
    expect(stdout.split('\n').filter((line) => /^(node_modules\/treadle|use\.ts|error)/.test(line))).toEqual(
      [],
    );
  });
});
