import { ReadlineParser } from '@serialport/parser-readline';
import { LineFramer } from '../../../host/board/link/line-framer.js';
import { decodeLine, limits } from '../../../shared-protocol/index.js';
import { bestMs, type Section, thousands, times } from './page.js';
import { sampleLines } from './sample-log.js';

const LINES = 1000;
const ROUNDS = 200;
/** What a serial port hands over at once. */
const CHUNK_BYTES = 1024;

/** The host's whole way from bytes to a checked message, against a bare line splitter and JSON.parse. */
export async function hostDecode(): Promise<Section> {
  const bytes = Buffer.from(sampleLines(LINES), 'latin1');
  const [checkedMs, bareMs, parseMs] = (await bestMs(
    ROUNDS,
    () => readChecked(bytes),
    () => readBare(bytes),
    () => parseOnly(bytes),
  )) as [number, number, number];
  const row = (what: string, tookMs: number) => [
    what,
    thousands(LINES / (tookMs / 1000)),
    times(bareMs / tookMs),
  ];
  return {
    title: 'Host decode',
    about:
      `${thousands(LINES)} log lines (${thousands(bytes.length)} bytes) in chunks of ${CHUNK_BYTES}, best of ${ROUNDS}. ` +
      'Goal: with every check (length, checksum, schema) at least half as fast as the bare reading.',
    columns: ['reading', 'lines a second', 'of bare reading'],
    rows: [
      row('treadle: framing, checksum, schema', checkedMs),
      row('bare: line parser and JSON.parse', bareMs),
      row('JSON.parse of lines already cut', parseMs),
    ],
  };
}

function readChecked(bytes: Buffer): void {
  let records = 0;
  const framer = new LineFramer((line) => {
    if (decodeLine(line).ok) records++;
  });
  for (const chunk of chunksOf(bytes)) framer.feed(chunk);
  mustBeAll(records);
}

function readBare(bytes: Buffer): void {
  let records = 0;
  const parser = new ReadlineParser({ encoding: 'latin1' });
  parser.on('data', (line: string) => {
    if (Array.isArray(JSON.parse(line))) records++;
  });
  for (const chunk of chunksOf(bytes)) parser.write(chunk);
  mustBeAll(records);
}

function parseOnly(bytes: Buffer): void {
  const lines = bytes.toString('latin1').split('\n').slice(0, -1);
  mustBeAll(lines.filter((line) => Array.isArray(JSON.parse(line))).length);
}

function* chunksOf(bytes: Buffer): Generator<Buffer> {
  for (let at = 0; at < bytes.length; at += CHUNK_BYTES) yield bytes.subarray(at, at + CHUNK_BYTES);
}

function mustBeAll(records: number): void {
  if (records !== LINES)
    throw new Error(`${records} of ${LINES} lines of at most ${limits.lineBytes} bytes were read`);
}
