import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { crc32 } from 'node:zlib';
import { limits } from '../../../../shared-protocol/index.js';
import { projectRoot } from '../../../../shared-protocol/project.js';
import type { EveningBench } from './evening-bench.js';

const SHELF_AT = 0x12_0000;
const [HEADER_AT, SUMMED_BYTES, BODY_AT] = [16, 36, 64];

/** What flashes have, for ever. */
export const frozen: Readonly<Record<string, number | string>> = JSON.parse(
  readFileSync(join(projectRoot, 'shared-protocol/frozen-formats.json'), 'utf8'),
);

/** Where a field of a record lies in its bytes. */
export function placeOf(message: string, field: string): number {
  const [, told] = Object.entries(frozen).find(
    ([key, words]) => key.startsWith(`message ${message}/`) && String(words).startsWith(`${field}:`),
  )!;
  return Number(/ at (\d+)$/.exec(String(told))![1]);
}

/** Makes each document of that kind, as it lies on the flash, what `change` makes of its body. */
export function changeDocument(
  { board: { flash } }: EveningBench,
  kind: string,
  change: (body: Buffer) => Buffer,
): void {
  for (let at = SHELF_AT; at < limits.storageBytes; at += limits.sectorBytes) {
    const sector = Buffer.from(flash.read(at, limits.sectorBytes));
    const header = sector.subarray(HEADER_AT, HEADER_AT + SUMMED_BYTES + 4);
    if (header[14] !== frozen[`document/${kind}`]) continue;
    const body = change(Buffer.from(sector.subarray(BODY_AT, BODY_AT + header.readUInt16LE(12))));
    sector.fill(0xff, BODY_AT);
    body.copy(sector, BODY_AT);
    header.writeUInt16LE(body.length, 12);
    header.writeUInt32LE(crc32(body), 8);
    // The header's own is seeded with the shelf's magic.
    header.writeUInt32LE(crc32(header.subarray(0, SUMMED_BYTES), sector.readUInt32LE(0)), SUMMED_BYTES);
    const image = flash.image();
    image.set(sector, at);
    flash.load(image);
  }
}
