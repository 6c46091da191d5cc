import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { BoardAtAPort } from '../../host/cli/board-at-a-port.js';
import { listOf } from '../../setup/list-of.js';
import { ownFolder } from './archive-folder.js';

const ids = ['00000000000000aa', '00000000000000bb'];
const ROUNDS = 3;

// Windows has no pseudo-terminals.
describe.skipIf(process.platform === 'win32')('two boards at one laptop', () => {
  const fileOf = ownFolder();
  let desks: BoardAtAPort[];
  // Boards of each test's own: the first leaves one focusing, if the pedal last was held then, and 'send' is refused.
  beforeEach(async () => {
    desks = await Promise.all(ids.map((id) => BoardAtAPort.start(id)));
  });
  afterEach(() => {
    for (const desk of desks) desk.close();
  });

  it('and two programs that pull them into one archive at the same time keep both logs, each entry once', async () => {
    const stopHolding = desks.map((desk) => desk.holdThePedalOverAndOver());
    for (let round = 0; round < ROUNDS; round++) {
      const pulls = desks.map((desk) =>
        desk.treadle('collect', '--json', '--archive', fileOf('both.sqlite')),
      );
      for (const ran of await Promise.all(pulls)) expect(ran).toMatchObject({ code: 0, err: '' });
    }
    for (const stop of stopHolding) stop();
    await using archive = await openArchive(fileOf('both.sqlite'));
    for (const board of ids) {
      const numbers = (await listOf(archive.records({ board }))).map(({ seq }) => seq);
      expect(numbers.length).toBeGreaterThan(ROUNDS);
      expect(numbers, board).toEqual(numbers.map((_, index) => index + 1));
    }
    expect(await listOf(archive.records())).toHaveLength(
      (await listOf(archive.records({ board: ids[0]! }))).length +
        (await listOf(archive.records({ board: ids[1]! }))).length,
    );
  });

  it('a recipe for one is not seen at the other', async () => {
    const [one, other] = desks as [BoardAtAPort, BoardAtAPort];
    const recipe = `${projectRoot}/host/evening/boathouse.json`;
    expect(await one.treadleWithArchive('send', recipe)).toMatchObject({ code: 0 });
    expect(JSON.parse((await one.treadle('recipes', '--json')).out)).toHaveLength(1);
    expect(JSON.parse((await other.treadle('recipes', '--json')).out)).toEqual([]);
  });
});
