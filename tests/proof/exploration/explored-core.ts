import { readFileSync } from 'node:fs';
import binaryen from 'binaryen';
import type { Core, CoreEffects } from '../../../host/core/generated/core-interface.js';
import { startCore } from '../../../host/core/load-core.js';
import { compiledCore } from '../../setup/compile-core.js';
import { writeStateFingerprint } from './fingerprint.js';

/** The core and what explored.as.ts tells of it. */
export interface ExploredCore extends Core {
  fingerprint(nowUs: bigint, outside: number): bigint;
  stateNow(): number;
  jobNow(): number;
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

/** The core's whole state: the part of its page that it writes to, and its globals. */
export interface CoreState {
  readonly page: Uint8Array;
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
  readonly #page: Uint8Array;
  readonly #globals: WebAssembly.Global[];

  constructor(effects: CoreEffects, module: WebAssembly.Module) {
    this.core = startCore(effects, module) as ExploredCore;
    this.#page = new Uint8Array(this.core.memory.buffer, 0, this.core.dataEnd());
    this.#globals = Object.entries(this.core)
      .filter(([name]) => name.startsWith(GLOBAL_PREFIX))
      .map(([, value]) => value as unknown as WebAssembly.Global);
  }

  take(): CoreState {
    return { page: this.#page.slice(), globals: this.#globals.map(({ value }) => value) };
  }

  put({ page, globals }: CoreState): void {
    this.#page.set(page);
    for (let index = 0; index < globals.length; index++) this.#globals[index]!.value = globals[index];
  }
}
