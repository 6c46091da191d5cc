import { encodeLine, type Message } from '../../../shared-protocol/index.js';
import { type Section, times } from './page.js';
import { sampleRecords } from './sample-log.js';

const ENTRIES = 2000;

/** Bytes of a log entry on the wire, checksum and newline included, against the same entry as a JSON object. */
export function entrySize(): Section {
  const records = sampleRecords(ENTRIES);
  const mean = (bytesOf: (record: Message) => number) =>
    records.reduce((sum, record) => sum + bytesOf(record), 0) / records.length;
  const wire = mean((record) => encodeLine(record).length);
  const object = mean((record) => Buffer.byteLength(`${JSON.stringify(record)}\n`));
  const summed = mean((record) => Buffer.byteLength(`${JSON.stringify({ ...record, crc: '01234567' })}\n`));
  const row = (what: string, bytes: number) => [what, bytes.toFixed(1), times(bytes / object)];
  return {
    title: 'Bytes of a log entry on the wire',
    about: `Mean of ${ENTRIES} entries of an evening.`,
    columns: ['form', 'bytes', 'of the object'],
    rows: [
      row('treadle line, with checksum', wire),
      row('JSON object, without checksum', object),
      row('JSON object with a checksum field', summed),
    ],
  };
}
