import { crc32 } from 'node:zlib';
import { beforeAll, expect, it } from 'vitest';
import { decodeLine, encodeLine, type Message } from '../../shared-protocol/index.js';
import { coreFramer, type Framer } from '../proof/fuzz/core-framer.js';
import { compileCore } from '../setup/compile-core.js';
import { type CodecEcho, codecEcho } from './codec-echo.js';

// Each side judges the other: what the core takes the host takes as the same, and what the host would say the core takes.

let core: CodecEcho;
let framer: Framer;
beforeAll(() => {
  core = codecEcho();
  framer = coreFramer(compileCore('tests/proof/fuzz/framer.as.ts'));
});

/** First and last of what a line's bytes may be, and what lies beside them. */
const BYTES = [...'\0\x1f !"#+,-./09:;@AFGZ[\\]^`abefguz{|}~\x7f\x80\xff'];

/** A field of each form: number, flag, choice, text, name, hexadecimal digits. */
const messages: readonly Message[] = [
  { type: 'recipe-dodge', id: 70, label: 'é"\\9', stops120: -90 },
  { type: 'watch', id: 9, on: true },
  { type: 'watch', id: 10, on: false },
  { type: 'recipe-commit', id: 1, whole: '09afa90f' },
  { type: 'recipe-get', id: 2, name: 'z0-a9' },
  { type: 'choose', id: 3, job: 'recipe', name: '' },
];

const sealed = (body: string) =>
  `${body},"${crc32(Buffer.from(body, 'latin1')).toString(16).padStart(8, '0')}"]\n`;

function faultOf(line: string): string | undefined {
  const answer = core.echo(line);
  const decoded = decodeLine(line.slice(0, -1));
  const asHostSays = decoded.ok ? encodeLine(decoded.message) : undefined;
  if (typeof answer === 'string')
    return answer === asHostSays ? undefined : `taken by the core alone: ${line}`;
  return asHostSays === line ? `refused by the core alone: ${line}` : undefined;
}

function* othersOf(message: Message): Generator<string> {
  const line = encodeLine(message);
  const body = line.slice(0, line.lastIndexOf(','));
  for (let at = 1; at < body.length; at++) {
    const [before, behind] = [body.slice(0, at), body.slice(at + 1)];
    yield sealed(before + behind);
    yield sealed(before);
    for (const byte of BYTES) {
      yield sealed(before + byte + behind);
      yield sealed(before + byte + body.slice(at));
    }
  }
}

it.each(messages)('no byte of $type $id can be another, more or less for one side alone', (message) => {
  const faults = [...othersOf(message)].filter((line) => !line.slice(0, -1).includes('\n')).map(faultOf);
  expect(faults.filter((fault) => fault !== undefined)).toEqual([]);
});

it.each(messages)('no sign around $type $id can be another, more or less', (message) => {
  const line = encodeLine(message);
  const none = new Uint8Array(line.length + 1);
  for (const at of [0, ...Array.from({ length: 12 }, (_, place) => line.length - 13 + place)]) {
    const [before, behind] = [line.slice(0, at), line.slice(at + 1)];
    const others = [
      before + behind,
      ...BYTES.flatMap((byte) => [before + byte + behind, before + byte + line.slice(at)]),
    ];
    // A return before the newline is no sign of the line.
    for (const other of others.filter((each) => each.replace('\r\n', '\n') !== line))
      expect(framer.linesTaken(other, none.subarray(0, other.length)), other).toBe(0);
  }
});
