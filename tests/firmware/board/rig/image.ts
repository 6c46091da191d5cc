import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { compiledCore } from '../../../setup/compile-core.js';
import { withLock } from './build-lock.js';

/** A board image as `npm run image` makes it. */
export interface Image {
  readonly bytes: Uint8Array;
  /** Addresses by name, for traces and faults on purpose. */
  readonly symbols: ReadonlyMap<string, number>;
  readonly report: ImageReport;
  readonly folder: string;
}

export interface ImageReport {
  readonly flashBytes: number;
  readonly ramBytes: number;
  readonly stackReservedBytes: number;
  readonly stackDeepestBytes: number;
}

const builder = join(projectRoot, 'firmware/board/build/image.mjs');

/** Whether the cross compiler and wasm2c are here. */
export function canBuildImages(): boolean {
  return ['arm-none-eabi-gcc', 'wasm2c'].every(
    (tool) => spawnSync(tool, ['--version'], { stdio: 'ignore' }).error === undefined,
  );
}

const built = new Map<string, Image>();

/**
 * The image around a core: the path of a wasm file, by default the one that `npm run build` made.
 * @param options more of the builder's, for an image of another name.
 */
export function buildImage(
  wasm = join(projectRoot, 'dist/core.wasm'),
  name = 'image',
  options: readonly string[] = [],
): Image {
  const known = built.get(name);
  if (known !== undefined) return known;
  const folder = join(projectRoot, 'dist', name);
  withLock(`${folder}-build`, () => buildUnlessFresh(wasm, folder, options));
  const image = {
    bytes: new Uint8Array(readFileSync(join(folder, 'treadle.bin'))),
    symbols: readSymbols(join(folder, 'treadle.elf')),
    report: JSON.parse(readFileSync(join(folder, 'report.json'), 'utf8')) as ImageReport,
    folder,
  };
  built.set(name, image);
  return image;
}

/** Builds only if the core or the board layer changed since: the compiler takes its time. */
function buildUnlessFresh(wasm: string, folder: string, options: readonly string[]): void {
  const stampPath = join(folder, 'stamp');
  const stamp = hashOfSources(wasm);
  if (existsSync(stampPath) && readFileSync(stampPath, 'utf8') === stamp) return;
  execFileSync(process.execPath, [builder, '--core', wasm, '--out', folder, '--quiet', ...options]);
  writeFileSync(stampPath, stamp);
}

function hashOfSources(wasm: string): string {
  const mark = join(projectRoot, 'dist/shared-protocol/image-mark.js');
  const hash = createHash('sha256').update(readFileSync(wasm)).update(readFileSync(mark));
  const board = join(projectRoot, 'firmware/board');
  for (const file of readdirSync(board, { recursive: true, encoding: 'utf8' }).toSorted()) {
    const path = join(board, file);
    if (statSync(path).isFile()) hash.update(file).update(readFileSync(path));
  }
  return hash.digest('hex');
}

/** The image around a core written for a test, from its AssemblyScript. */
export function buildImageOf(entry: string, name: string, options: readonly string[] = []): Image {
  return built.get(name) ?? buildImage(compiledCore(entry), name, options);
}

function readSymbols(elf: string): Map<string, number> {
  const symbols = new Map<string, number>();
  for (const line of execFileSync('arm-none-eabi-nm', [elf], { encoding: 'utf8' }).split('\n')) {
    const [address, , name] = line.split(' ');
    if (name !== undefined) symbols.set(name, Number.parseInt(address!, 16));
  }
  return symbols;
}
