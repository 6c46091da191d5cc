/**
 * The events: everything that can happen to the core. The board calls one export at a time, in order of
 * time, with the time in microseconds since power-up; the core answers with effects (see board.ts).
 * Same events in, same effects out, bit for bit, wherever this runs.
 */
import { lampOff } from './board';

export * from './planning';

/** First event after power-up; `cause` is a StartCause of the schema, `detail` the trap's number or 0. */
export function boot(nowUs: i64, cause: i32, detail: i32): void {
  lampOff();
}

/** One byte from the serial line. */
export function received(byte: i32, nowUs: i64): void {}

/** The serial line has room for a whole line again after it refused one. */
export function writable(nowUs: i64): void {}

/** The pedal's contact as the pin shows it, bounces and all; `nowUs` is when the edge was seen. */
export function pedalEdge(down: bool, nowUs: i64): void {}

/** The knob's push contact, likewise. */
export function knobEdge(down: bool, nowUs: i64): void {}

/** The knob went `detents` steps, clockwise positive. */
export function knobTurned(detents: i32, nowUs: i64): void {}

/** The lamp went off, by its alarm or by `lampOff`, after `onUs` of relay-on time as measured. */
export function lampEnded(onUs: u32, nowUs: i64): void {}

/** The moment asked for with `wakeAtUs` has come. */
export function deadline(nowUs: i64): void {}

/** The flash operation under way is over; `ok` is false when it was refused or did not verify. */
export function flashDone(ok: bool, nowUs: i64): void {}
