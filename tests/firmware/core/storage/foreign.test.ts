import { expect, it } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import { storageFormat } from '../../../../shared-protocol/documents.js';
import { limits } from '../../../../shared-protocol/limits.js';
import { code, documentKind, StoreRig } from './store-rig.js';

const SECTORS_OF_SHELF = 96;

/** A flash with an entry and a document on it, which lies in the shelf's last sector; whose last sector of that mark says that the next firmware wrote it. */
function writtenByNext(magic: string): Flash {
  const rig = new StoreRig(new Flash());
  rig.finish(rig.append(1, Uint8Array.of(1)));
  for (let version = 1; version < SECTORS_OF_SHELF; version++)
    rig.finish(rig.put(documentKind.recipe, 'jetty', Uint8Array.of(version)));
  expect(rig.find(documentKind.recipe, 'jetty')).toBe(SECTORS_OF_SHELF - 1);
  const { flash } = rig;
  const sectors = Array.from({ length: flash.size / limits.sectorBytes }, (_, at) => at * limits.sectorBytes);
  const marked = sectors.findLast((offset) => Buffer.from(flash.read(offset, 4)).toString() === magic)!;
  const bytes = Buffer.from(flash.read(marked, limits.sectorBytes));
  const next = storageFormat + 1;
  bytes.set([next, 0xff ^ next], 12);
  flash.erase(marked);
  for (let page = 0; page < limits.sectorBytes; page += limits.pageBytes)
    flash.program(marked + page, bytes.subarray(page, page + limits.pageBytes));
  return flash;
}

it.each(['Log1', 'Tly1', 'Shf1'])(
  'a flash on which the next firmware wrote a sector of %s is left as it is, also when there is nothing better to do, and nothing of it is found',
  (magic) => {
    const flash = writtenByNext(magic);
    const { operations } = flash;
    const rig = new StoreRig(flash);
    expect(rig.names(documentKind.recipe)).toEqual([]);
    expect(rig.append(1, Uint8Array.of(1))).toBe(code.full);
    expect(rig.put(documentKind.settings, '', Uint8Array.of(1))).toBe(code.waiting);
    rig.core.idle();
    rig.settle();
    expect(flash.operations).toBe(operations);
  },
);
