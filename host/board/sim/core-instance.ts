import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../../shared-protocol/project.js';

/** What the core asks of its board: one function for each import of firmware/core/board.ts. */
export interface CoreEffects {
  exposeUs(onUs: number): void;
  focusUs(limitUs: number): void;
  lampOff(): void;
  safelight(on: number): void;
  wakeAtUs(atUs: bigint): void;
  showLine(row: number, text: number, length: number): void;
  displayLight(percent: number): void;
  tone(hz: number, volumePercent: number): void;
  sendBytes(from: number, length: number): number;
  flashRead(offset: number, into: number, length: number): void;
  flashProgram(offset: number, from: number, length: number): void;
  flashErase(offset: number): void;
  boardId(into: number): void;
  linkFaults(which: number): number;
}

/** What the board tells the core: the events of firmware/core/index.ts, and the core's memory. */
export interface CoreEvents {
  readonly memory: WebAssembly.Memory;
  boot(nowUs: bigint, cause: number, detail: number): void;
  received(byte: number, nowUs: bigint): void;
  writable(nowUs: bigint): void;
  pedalEdge(down: number, nowUs: bigint): void;
  knobEdge(down: number, nowUs: bigint): void;
  knobTurned(detents: number, nowUs: bigint): void;
  lampEnded(onUs: number, nowUs: bigint): void;
  deadline(nowUs: bigint): void;
  flashDone(ok: number, nowUs: bigint): void;
}

let compiled: WebAssembly.Module | undefined;

/** The core as it was built, compiled once. */
export function coreModule(): WebAssembly.Module {
  compiled ??= new WebAssembly.Module(readFileSync(join(projectRoot, 'dist/core.wasm')));
  return compiled;
}

/** A core of its own, with these effects. */
export function startCore(effects: CoreEffects, module = coreModule()): CoreEvents {
  const instance = new WebAssembly.Instance(module, { board: { ...effects } });
  return instance.exports as unknown as CoreEvents;
}
