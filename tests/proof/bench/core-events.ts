import type { CoreEffects } from '../../../host/core/generated/core-interface.js';
import { startCore } from '../../../host/core/load-core.js';
import { encodeLine, protocolVersion, schemaHash } from '../../../shared-protocol/index.js';
import { bestMs, type Section, times } from './page.js';

const EVENTS = 100_000;
const ROUNDS = 5;

/** A board that does nothing: what is measured is the core and the way into it. */
const nothing: CoreEffects = {
  exposeUs: () => {},
  focusUs: () => {},
  lampOff: () => {},
  safelight: () => {},
  makeWay: () => {},
  wakeAtUs: () => {},
  showLine: () => {},
  displayLight: () => {},
  tone: () => {},
  sendBytes: () => 1,
  flashRead: () => {},
  flashProgram: () => {},
  flashErase: () => {},
  boardId: () => {},
  linkFaults: () => 0,
};

/** Nanoseconds an event of the core in Node, beside a call into WebAssembly that does next to nothing. */
export async function coreEvents(): Promise<Section> {
  const core = startCore(nothing);
  core.boot(0n, 0, 0);
  const hello = encodeLine({
    type: 'hello',
    id: 1,
    protocol: protocolVersion,
    schemaHash,
    hostVersion: 'bench',
  });
  for (const byte of Buffer.from(hello)) core.received(byte, 1n);
  const ping = Buffer.from(encodeLine({ type: 'ping', id: 2 }) + encodeLine({ type: 'ping', id: 3 }));
  let nowUs = 1_000_000n;
  const [byteMs, edgeMs, turnMs, idleMs] = (await bestMs(
    ROUNDS,
    () => {
      for (let event = 0; event < EVENTS; event++) core.received(ping[event % ping.length]!, nowUs);
    },
    () => {
      for (let event = 0; event < EVENTS; event++) {
        nowUs += 50n;
        core.pedalEdge(event & 1, nowUs);
      }
    },
    () => {
      for (let event = 0; event < EVENTS; event++) core.knobTurned(event & 1 ? 1 : -1, nowUs);
    },
    () => {
      for (let event = 0; event < EVENTS; event++) core.writable(nowUs);
    },
  )) as [number, number, number, number];
  const row = (what: string, tookMs: number) => [
    what,
    ((tookMs * 1e6) / EVENTS).toFixed(0),
    times(tookMs / idleMs),
  ];
  return {
    title: 'Core: events in Node',
    about: `Best of ${ROUNDS} runs of ${EVENTS} events each.`,
    columns: ['event', 'nanoseconds', "times 'the line has room'"],
    rows: [
      row('a byte from the line (pings, answered)', byteMs),
      row("an edge of the pedal's bouncing contact", edgeMs),
      row('the knob turned', turnMs),
      row('the line has room, with nothing to say', idleMs),
    ],
  };
}
