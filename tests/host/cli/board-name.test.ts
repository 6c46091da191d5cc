import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBoard } from '../../../host/board/link/open-board.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { BoardAtAPort } from './board-at-a-port.js';
import { treadle } from './treadle.js';

const ID = '00000000000000a7';

describe('a board with a name, at a real port:', () => {
  let desk: BoardAtAPort;
  beforeAll(async () => {
    desk = await BoardAtAPort.start(ID);
  });
  afterAll(() => desk.close());

  it('is named by the command line, and says so to any laptop', async () => {
    const ran = await desk.treadle('settings', 'name', 'garage');
    expect(ran).toMatchObject({ code: 0, out: '', err: `Board ${ID} is called 'garage'.\n` });
    expect((await desk.treadle('info')).out).toContain(`garage (${ID})`);
    expect(JSON.parse((await desk.treadle('info', '--json')).out)).toMatchObject({
      boardId: ID,
      boardName: 'garage',
    });
  });

  it('has its name beside its id in what is kept of it, and is found by either', async () => {
    expect((await desk.treadleWithArchive('collect')).code).toBe(0);
    const nights = (...words: string[]) => treadle(['nights', ...words, '--archive', desk.archive]);
    const [heads, row] = (await nights('--csv', '--board', 'Garage')).out.split('\r\n');
    expect(heads).toMatch(/,board name$/);
    expect(row).toMatch(/,garage$/);
    const [entry] = (await nights('--json', '--board', ID)).out.split('\n');
    expect(JSON.parse(entry!)).toMatchObject({ board: ID, boardName: 'garage' });
    const ran = await nights('--board', 'cellar');
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain(`has nothing of board 'cellar'; it has garage (${ID})`);
  });

  it('is asked for by its id where another that was collected has its name', async () => {
    {
      await using archive = await openArchive(desk.archive);
      const started = [8, 1, 0, 'power-on', 0];
      await archive.keepRecords('00000000000000b8', 0, [
        { boot: 8, seq: 1, uptimeMs: 0, type: 'started', fields: started },
      ]);
      await archive.nameBoard('00000000000000b8', 'Garage');
    }
    const nights = (...words: string[]) => treadle(['nights', ...words, '--archive', desk.archive]);
    expect((await nights('--board', 'garage')).err).toContain(
      `several boards are called 'garage'; give the id: garage (${ID}), Garage (00000000000000b8)`,
    );
    expect((await nights('--board', ID)).code).toBe(0);
    expect((await nights()).out.replace(/\s+/g, ' ')).toContain(
      'power-on 8 of board Garage (00000000000000b8)',
    );
  });

  it.each([
    ['/dev/ttyACM0', /'\/dev\/ttyACM0' would be taken for a port/],
    ['COM3', /'COM3' would be taken for a port/],
    ['00000000000000A7', /would be taken for the id of a board/],
    ['seventeen letters', /at most 16 characters/],
  ])('cannot be called %j', async (name, words) => {
    const ran = await desk.treadle('settings', 'name', name);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(words);
    expect((await desk.treadle('info')).out).toContain(`garage (${ID})`);
  });

  // U+202E turns the reading direction round: what stands behind it reads as something else.
  it('steers no terminal by its name', async () => {
    const board = await openBoard(desk.path);
    await board.setName('\u202egarage').finally(() => board.close());
    const { out } = await desk.treadle('info');
    expect(out).not.toContain('\u202e');
    expect(out).toContain(`\ufffdgarage (${ID})`);
    expect((await desk.treadleWithArchive('collect')).code).toBe(0);
    const csv = await treadle(['nights', '--csv', '--board', ID, '--archive', desk.archive]);
    expect(csv.out).not.toContain('\u202e');
    const none = await treadle(['nights', '--board', 'x', '--archive', desk.archive]);
    expect(none.err).not.toContain('\u202e');
  });

  it('loses its name by the word none, also in the archive', async () => {
    expect((await desk.treadle('settings', 'name', 'none')).err).toBe(`Board ${ID} has no name.\n`);
    expect((await desk.treadle('info')).out).toMatch(new RegExp(`^board +${ID}$`, 'm'));
    expect((await desk.treadleWithArchive('collect')).code).toBe(0);
    await using archive = await openArchive(desk.archive);
    expect([...(await archive.boardNames())]).toEqual([['00000000000000b8', 'Garage']]);
  });

  it('is not there for who asks for another', async () => {
    const ran = await treadle(['info', '--port', 'cellar']);
    expect(ran).toMatchObject({ code: 3, out: '' });
    expect(ran.err).toContain("'cellar' is no serial port, and no board is called so");
  });
});
