/** Whoever makes an instance of any core gets one of the core that is handed in here. */

import { FUEL_AT, MARKS_AT } from './rewrite.js';

/** Calls that nothing but a mutant that never ends makes. */
export interface Bounds {
  readonly fuel: number;
  readonly calls: number;
}

const Original = WebAssembly.Instance;
type Exports = Record<string, unknown>;

let module: WebAssembly.Module;
let generation = 0;
let bounds: Bounds = { fuel: 0x7fff_ffff, calls: Number.POSITIVE_INFINITY };
let callsLeft = Number.POSITIVE_INFINITY;
let untilMs = Number.POSITIVE_INFINITY;

/** More than this many are not in use at once, and would fill the memory. */
const REMEMBERED = 300;
let started: { readonly exports: Exports; readonly fuel: number }[] = [];
let marks: Uint8Array | undefined;
let mostFuel = 0;

/** What this process has computed for, whatever else the machine does. */
export function busyMs(): number {
  return process.cpuUsage().user / 1000;
}

const TOO_LONG = 'it takes longer than was asked for';

export function handIn(core: WebAssembly.Module): void {
  module = core;
  generation++;
}

/** Before each check; `count` of the marks where what it reaches is to be known, of those that are over by `endMs`. */
export function boundBy(chosen: Bounds, count?: number, endMs = Number.POSITIVE_INFINITY): void {
  bounds = chosen;
  untilMs = endMs;
  callsLeft = chosen.calls;
  started = [];
  marks = count === undefined ? undefined : new Uint8Array(count);
  mostFuel = 0;
}

export interface Spent extends Bounds {
  /** Marks of all instances, one laid over the other. */
  readonly marks: Uint8Array;
}

/** What the instances since `boundBy` took. */
export function spent(): Spent {
  readMarks(0);
  return { marks: marks!, fuel: mostFuel, calls: bounds.calls - callsLeft };
}

/** Of all but the newest. */
function readMarks(newest: number): void {
  for (const { exports, fuel } of started.splice(0, started.length - newest)) {
    mostFuel = Math.max(mostFuel, fuel - fuelOf(exports)[0]!);
    const memory = new Uint8Array((exports.memory as WebAssembly.Memory).buffer, MARKS_AT, marks!.length);
    for (let at = 0; at < marks!.length; at++) marks![at]! |= memory[at]!;
  }
}

function fuelOf(exports: Exports): Int32Array {
  return new Int32Array((exports.memory as WebAssembly.Memory).buffer, FUEL_AT, 1);
}

function start(imports: WebAssembly.Imports): Exports {
  const missing = () => 0;
  const board = new Proxy(imports.board ?? {}, { get: (from, name: string) => from[name] ?? missing });
  const exports = new Original(module, { board, env: { abort: missing } }).exports as Exports;
  fuelOf(exports)[0] = bounds.fuel;
  if (marks !== undefined) started.push({ exports, fuel: bounds.fuel });
  if (started.length > 2 * REMEMBERED) readMarks(REMEMBERED);
  return exports;
}

/** Some tests keep an instance for ever: it is another one as soon as another core is handed in. */
class HandedIn {
  readonly exports: Exports = {};

  constructor(_asked: WebAssembly.Module, imports: WebAssembly.Imports = {}) {
    let live = start(imports);
    let born = generation;
    const now = () => {
      if (born !== generation) live = start(imports);
      born = generation;
      return live;
    };
    for (const [name, value] of Object.entries(live)) {
      const call = (...values: unknown[]) => {
        if (--callsLeft < 0) throw new Error('the core is called without end');
        if ((callsLeft & 63) === 0 && busyMs() > untilMs) throw new Error(TOO_LONG);
        return (now()[name] as (...values: unknown[]) => unknown)(...values);
      };
      Object.defineProperty(this.exports, name, {
        enumerable: true,
        get: typeof value === 'function' ? () => call : () => now()[name],
      });
    }
  }
}

export function takeOver(): void {
  WebAssembly.Instance = HandedIn as unknown as typeof WebAssembly.Instance;
}
