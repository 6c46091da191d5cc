/** What of the core an exploration ran through: on the core that mutation marks, block by block. */
import { writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { blocksOf, MARKS_AT, Rewriter } from '../mutation/core/rewrite.js';
import { compileWholeCore, mutationFolder, readWholeCore } from '../mutation/core/whole-core.js';
import { exploredModule } from './explored-core.js';

const CORE = 'firmware/core/';

export interface Reached {
  readonly folders: Readonly<Record<string, { readonly lines: number; readonly of: number }>>;
  /** Functions that were never entered, as the compiler names them. */
  readonly functionsNever: readonly string[];
  /** `evening/foot.ts: 12, 15-17`. */
  readonly linesNever: readonly string[];
}

export function markedModule(): WebAssembly.Module {
  compileWholeCore();
  const marked = join(mutationFolder, 'marked.wasm');
  writeFileSync(marked, new Rewriter(readWholeCore(), []).withBlocksMarked());
  return exploredModule(marked);
}

/** What the core left in `memory`. */
export function reachedIn(memory: WebAssembly.Memory): Reached {
  const marks = new Uint8Array(memory.buffer, MARKS_AT);
  const core = readWholeCore();
  const blocks = blocksOf(core.functions);
  const lines = new Map<string, boolean>();
  const functionsNever: string[] = [];
  for (const [index, { name, instructions }] of core.functions.entries()) {
    const isReached = instructions.map((_, at) => marks[blocks[index]![at]!] !== 0);
    if (name.startsWith(CORE) && !isReached.includes(true)) functionsNever.push(name.slice(CORE.length));
    for (const [at, { offset }] of instructions.entries()) {
      const line = core.lineOf(offset);
      if (line?.startsWith(CORE)) lines.set(line, isReached[at]! || lines.get(line) === true);
    }
  }
  return { folders: byFolder(lines), functionsNever, linesNever: neverOf(lines) };
}

function byFolder(lines: ReadonlyMap<string, boolean>): Reached['folders'] {
  const folders: Record<string, { lines: number; of: number }> = {};
  for (const [line, isReached] of lines) {
    const folder = dirname(line).slice(CORE.length) || '.';
    folders[folder] ??= { lines: 0, of: 0 };
    folders[folder].of++;
    if (isReached) folders[folder].lines++;
  }
  return folders;
}

function neverOf(lines: ReadonlyMap<string, boolean>): string[] {
  const byFile = new Map<string, number[]>();
  for (const [line, isReached] of lines) {
    const [file, number] = line.split(':');
    if (!isReached) byFile.set(file!, [...(byFile.get(file!) ?? []), Number(number)]);
  }
  return [...byFile]
    .sort(([one], [other]) => one.localeCompare(other))
    .map(([file, numbers]) => `${file.slice(CORE.length)}: ${rangesOf(numbers)}`);
}

function rangesOf(numbers: readonly number[]): string {
  const ranges: [number, number][] = [];
  for (const number of [...numbers].sort((one, other) => one - other)) {
    const last = ranges.at(-1);
    if (last !== undefined && number <= last[1] + 1) last[1] = number;
    else ranges.push([number, number]);
  }
  return ranges.map(([from, to]) => (from === to ? `${from}` : `${from}-${to}`)).join(', ');
}
