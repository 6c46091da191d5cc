import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../../shared-protocol/project.js';

/** The exports of firmware/core/planning.ts, where each is explained; flags are 0 or 1. */
export interface PlanningCore {
  /** From firmware/core/plan/strip-proposal.ts; verdicts as the schema counts them, 0 a patch. */
  nextStrip(
    verdict: number,
    bestMs: number,
    firstMs: number,
    stepStops120: number,
    stepMs: number,
    patches: number,
  ): number;
  nextStripFirstMs(): number;
  nextStripStops120(): number;
  nextStripPatches(): number;
  seenMs(firstMs: number, stepStops120: number, stepMs: number, patch: number, between: number): number;
  stopsToClose(baseMs: number): number;
  timeAtStopsMs(baseMs: number, stops120: number): number;
  burnMs(baseMs: number, stops120: number): number;
  dodgeMs(baseMs: number, stops120: number): number;
  stopsBetween120(fromMs: number, toMs: number): number;
  stopsBetween100(fromMs: number, toMs: number): number;
  stopsBetween1000(fromMs: number, toMs: number): number;
  setLamp(lagMs: number, riseMs: number): number;
  doseUs(onUs: number): number;
  onUsForDose(wantedUs: number): number;
  minimumDoseMs(): number;
  patchMs(firstMs: number, stepStops120: number, stepMs: number, patch: number): number;
  planBegin(baseMs: number, dryDownTenths: number, dodgesStop: boolean): number;
  planPass(kind: number, stops120: number): number;
  planDodge(stops120: number): number;
  planEnd(): number;
  planPatches(
    firstMs: number,
    stepStops120: number,
    stepMs: number,
    patches: number,
    separate: boolean,
  ): number;
  planFailedPass(): number;
  planFailedDodge(): number;
  planNeededMs(): number;
  planAllowedMs(): number;
  planBaseMs(): number;
  planPassCount(): number;
  planPassDoseMs(index: number): number;
  planSegmentCount(): number;
  planSegmentKind(index: number): number;
  planSegmentFlags(index: number): number;
  planSegmentPass(index: number): number;
  planSegmentDoseMs(index: number): number;
  planSegmentRestUs(index: number): number;
  planSegmentOnUs(index: number): number;
  planPulseEnd(first: number): number;
  planPulseOnUs(first: number): number;
  planBookPulse(first: number, measuredOnUs: number): number;
}

/** A u32 of the core, which JavaScript is handed as if it had a sign. */
export function unsigned(value: number): number {
  return value >>> 0;
}

/** RangeError unless the core can take the numbers as they are: it would cut off fractions and wrap around. */
export function whole(...values: number[]): void {
  const odd = values.find((value) => !Number.isInteger(value) || Math.abs(value) > 0x7fff_ffff);
  if (odd !== undefined) throw new RangeError(`times and offsets are whole numbers, which ${odd} is not`);
}

/** Where the build leaves the one core that board, simulated board and planner run. */
export const corePath = join(projectRoot, 'dist', 'core.wasm');

let loaded: PlanningCore | undefined;

/**
 * The core as a calculator, loaded once. It is never started as a board: an effect that it asked for would have
 * nowhere to go, so every one of them throws.
 */
export function loadCore(): PlanningCore {
  loaded ??= instantiate(new WebAssembly.Module(readFileSync(corePath)));
  return loaded;
}

function instantiate(module: WebAssembly.Module): PlanningCore {
  const imports: Record<string, Record<string, () => never>> = {};
  for (const { module: from, name } of WebAssembly.Module.imports(module)) {
    imports[from] ??= {};
    imports[from][name] = () => {
      throw new Error(`planning reached for the board's ${name}`);
    };
  }
  return new WebAssembly.Instance(module, imports).exports as unknown as PlanningCore;
}
