import type { BoardHome } from '../../../host/board/sim/board-home.js';
import { boathouse } from '../core/evening/boathouse.js';
import type { EveningBench } from '../core/evening/evening-bench.js';

/** What a person sees of an evening: panels on the way, lights, and the log in the end. */
export interface Evening {
  readonly panels: string[][];
  readonly pulsesUs: number[];
  readonly log: Record<string, unknown>[];
}

/** A recipe uploaded, focus, lens check, and a print with a pause in it. */
export function spendEvening<Home extends BoardHome>(bench: EveningBench<Home>): Evening {
  const panels: string[][] = [];
  bench.greet();
  bench.print(boathouse);
  bench.focusAndStopDown();
  bench.tap();
  panels.push(bench.panel);
  bench.tap();
  bench.seconds(1);
  bench.tap();
  panels.push(bench.panel);
  for (let taps = 0; taps < 12 && !bench.panel[0]!.startsWith('Tap again'); taps++) {
    bench.tap();
    bench.seconds(20);
    panels.push(bench.panel);
  }
  return { panels, pulsesUs: bench.pulses, log: bench.log().map(withoutTimes) };
}

/** An entry without what differs between two boards: when. */
function withoutTimes(entry: object): Record<string, unknown> {
  const plain: Record<string, unknown> = { ...entry };
  for (const field of ['id', 'uptimeMs']) delete plain[field];
  return plain;
}

export function withoutLight({
  onMs: _on,
  doseMs: _dose,
  ...entry
}: Record<string, unknown>): Record<string, unknown> {
  return entry;
}
