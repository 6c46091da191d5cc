import { describe, expect, it } from 'vitest';
import { collectIntoArchive } from '../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { entryOf } from '../../../host/records/log/log-entry.js';
import { lens, sealed } from '../../host/board/link/scripted-peer.js';
import { Talk } from '../../host/board/link/talk.js';
import { listOf } from '../../setup/list-of.js';
import { ownFolder } from './archive-folder.js';

const OTHER_HASH = '00000000';

describe.each([
  ['a newer board', '99.0.0', 'laptop'],
  ['an older board', '0.0.1', 'board'],
])('the log of %s', (name, firmwareVersion, update) => {
  const fileOf = ownFolder();

  it('is archived as it stands, records of unknown kinds too, and shown as far as it is understood', async () => {
    const talk = new Talk();
    talk.peer.welcome = { schemaHash: OTHER_HASH, firmwareVersion };
    talk.peer.log = [lens(1), lens(2), lens(3)];
    talk.peer.outgoing = (line) => {
      const id = /^\["lens",(\d+),1,2,/.exec(line)?.[1];
      return id === undefined ? line : sealed(`["moonrise",${id},1,2,2000,"full",true`);
    };
    await using archive = await openArchive(fileOf(`${name}.sqlite`), talk.clock);
    const board = await talk.open({ acceptOtherVersion: true });
    expect(board.mismatch).toMatchObject({ update });
    for (let time = 0; time < 2; time++) await talk.over(collectIntoArchive(archive, board));
    await board.close();

    const records = await listOf(archive.records());
    expect(records.map(({ type }) => type)).toEqual(['lens', 'moonrise', 'lens']);
    expect(records[1]).toMatchObject({ fields: [1, 2, 2000, 'full', true], schemaHash: OTHER_HASH });
    const unknown = entryOf(records[1]!);
    expect(unknown).toMatchObject({ kind: 'unreadable', details: { type: 'moonrise' } });
  });

  it('is all that is asked of it: nothing is sent that another version might take for something else', async () => {
    const talk = new Talk();
    talk.peer.welcome = { schemaHash: OTHER_HASH, firmwareVersion };
    talk.peer.log = [lens(1)];
    await using archive = await openArchive(fileOf(`${name}-asked.sqlite`), talk.clock);
    const board = await talk.open({ acceptOtherVersion: true });
    await talk.over(collectIntoArchive(archive, board));
    await talk.pass(60_000);
    await board.close();
    expect([...new Set(talk.peer.types())].sort()).toEqual(['collect', 'forget', 'hello']);
  });
});
