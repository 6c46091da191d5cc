import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { Flash } from '../../host/board/sim/flash.js';
import type { Bath } from '../../host/recipe/baths/bath.js';
import type { BoardRecipe } from '../../host/recipe/board-recipe.js';
import type { KeptRecipe, Remark } from '../../host/records/archive/archive.js';
import { limits } from '../../shared-protocol/index.js';

/** A line of the log as a format's build told it: the archive's number of the log, the type, the fields in order. */
export type ToldRecord = readonly [log: number, type: string, ...fields: unknown[]];

/** What the board of a format's build said of itself; names are that build's. */
export interface Held {
  readonly oldestSeq: number;
  readonly nextSeq: number;
  readonly settings: Readonly<Record<string, number>>;
  readonly baths: readonly Bath[];
  readonly recipes: readonly BoardRecipe[];
  readonly log: readonly ToldRecord[];
}

function read(format: number, name: string): Buffer {
  return readFileSync(join(import.meta.dirname, String(format), name));
}

/** A flash as that format's build left it. */
export function seedFlash(format: number): Flash {
  const flash = new Flash({ bytes: limits.storageBytes });
  flash.load(gunzipSync(read(format, 'flash.bin.gz')));
  return flash;
}

export function seedHeld(format: number): Held {
  return JSON.parse(read(format, 'held.json').toString()) as Held;
}

/** The core of that format's build. */
export function seedCore(format: number): WebAssembly.Module {
  return new WebAssembly.Module(new Uint8Array(gunzipSync(read(format, 'core.wasm.gz'))));
}

/** What that build's archive said it held. */
export interface Archived {
  readonly board: string;
  readonly schemaHash: string;
  readonly recipes: readonly KeptRecipe[];
  readonly remarks: readonly Remark[];
  readonly records: readonly ToldRecord[];
}

export function seedArchived(format: number): Archived {
  return JSON.parse(read(format, 'archived.json').toString()) as Archived;
}

/** The archive as that format's build left it, at `file`, which is answered. */
export function seedArchive(format: number, file: string): string {
  writeFileSync(file, gunzipSync(read(format, 'archive.sqlite.gz')));
  return file;
}
