import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { StoreRig } from '../storage/store-rig.js';
import { Conversation } from './conversation.js';

const frozen: Readonly<Record<string, number | string>> = JSON.parse(
  readFileSync(join(projectRoot, 'shared-protocol/frozen-formats.json'), 'utf8'),
);
const kinds = Object.entries(frozen).flatMap(([key, kind]) =>
  /^log entry\//.test(key) ? [Number(kind)] : [],
);
const firstUnknown = Math.max(...kinds) + 1;

it.each([firstUnknown, firstUnknown + 1, 0x7f, 0x80, 0xff])(
  'entries of kind %i, which a later firmware wrote, are passed over when the log is collected, and others are not',
  (kind) => {
    const rig = new StoreRig(new Flash());
    for (let entry = 0; entry < 5; entry++) rig.finish(rig.append(kind, new Uint8Array(60).fill(entry)));
    const board = new Conversation(rig.flash);
    board.hello();
    const [started, end] = board.say({ type: 'collect', id: 5, fromSeq: 1, count: 9 });
    expect(started).toMatchObject({ type: 'started', seq: 6 });
    expect(end).toMatchObject({ type: 'collected', nextSeq: 7, endSeq: 7 });
  },
);
