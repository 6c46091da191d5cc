import { readFileSync } from 'node:fs';
import binaryen from 'binaryen';
import type { Core, CoreEffects } from '../../../host/core/generated/core-interface.js';
import { startCore } from '../../../host/core/load-core.js';
import { compiledCore } from '../../setup/compile-core.js';
import { writeStateFingerprint } from './fingerprint.js';

/** The core and what explored.as.ts tells of it. */
export interface ExploredCore extends Core {
  fingerprint(nowUs: bigint, outside: number): number;
  stateNow(): number;
  lensConfirmedNow(): number;
  startWantedNow(): number;
  deafNow(nowUs: bigint): number;
  litForPaper(): number;
  isPulsing(): number;
  entryIsSafe(): number;
  endSeqNow(): number;
  passNow(): number;
  passesNow(): number;
  kindNow(): number;
  patchNow(): number;
  pulsesNow(): number;
  labelNow(): number;
  nextMs(): number;
  isOutOfTurn(): number;
  isRestOfPass(): number;
  filterNow(): number;
  sheetNow(): number;
  dataEnd(): number;
}

const GLOBAL_PREFIX = 'state:';
const BLOCK_BYTES = 256;

/** The core's whole state: the blocks of its page that differ from those after its start, and its globals. */
export interface CoreState {
  readonly blocks: readonly number[];
  readonly content: Uint8Array;
  readonly globals: readonly (number | bigint)[];
}

function compiledExploredCore(): string {
  writeStateFingerprint();
  return compiledCore('tests/proof/exploration/explored.as.ts');
}

/** The compiled core with every variable that it keeps outside its page made visible. */
export function exploredModule(file = compiledExploredCore()): WebAssembly.Module {
  const module = binaryen.readBinary(readFileSync(file));
  for (let index = 0; index < module.getNumGlobals(); index++) {
    const { name, mutable } = binaryen.getGlobalInfo(module.getGlobalByIndex(index));
    if (mutable) module.addGlobalExport(name, GLOBAL_PREFIX + index);
  }
  const bytes = module.emitBinary();
  module.dispose();
  return new WebAssembly.Module(bytes as BufferSource);
}

/** A core whose state can be taken out and put back: it is deterministic, and this is all of it. */
export class CoreWithState {
  readonly core: ExploredCore;
  readonly #page: Buffer;
  readonly #first: Buffer;
  readonly #globals: WebAssembly.Global[];

  constructor(effects: CoreEffects, module: WebAssembly.Module) {
    this.core = startCore(effects, module) as ExploredCore;
    const blocks = Math.ceil(this.core.dataEnd() / BLOCK_BYTES);
    this.#page = Buffer.from(this.core.memory.buffer, 0, blocks * BLOCK_BYTES);
    this.#first = Buffer.from(this.#page);
    this.#globals = Object.entries(this.core)
      .filter(([name]) => name.startsWith(GLOBAL_PREFIX))
      .map(([, value]) => value as unknown as WebAssembly.Global);
  }

  take(): CoreState {
    const blocks: number[] = [];
    for (let at = 0; at < this.#page.length; at += BLOCK_BYTES)
      if (this.#page.compare(this.#first, at, at + BLOCK_BYTES, at, at + BLOCK_BYTES) !== 0) blocks.push(at);
    const content = new Uint8Array(blocks.length * BLOCK_BYTES);
    for (const [place, at] of blocks.entries())
      content.set(this.#page.subarray(at, at + BLOCK_BYTES), place * BLOCK_BYTES);
    return { blocks, content, globals: this.#globals.map(({ value }) => value) };
  }

  put({ blocks, content, globals }: CoreState): void {
    this.#page.set(this.#first);
    for (let place = 0; place < blocks.length; place++)
      this.#page.set(content.subarray(place * BLOCK_BYTES, (place + 1) * BLOCK_BYTES), blocks[place]!);
    for (let index = 0; index < globals.length; index++) this.#globals[index]!.value = globals[index];
  }
}
