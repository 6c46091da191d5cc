import { describe, expect, it } from 'vitest';
import { InvalidRequestError, RefusedError } from '../../../../host/board/errors.js';
import { usualBaths } from '../../../../shared-protocol/usual-baths.js';
import { Talk } from '../../board/link/talk.js';

const row = (length: number) =>
  Array.from({ length }, (_, at) => ({ ...usualBaths[0], label: `bath ${at + 1}` }));

describe('a row of baths on the line', () => {
  it('is sent bath by bath in order, each with the length of the row', async () => {
    const talk = new Talk();
    const board = await talk.open({ setClock: false });
    await talk.over(board.setBaths(usualBaths));
    const sent = talk.peer.heard.filter(({ type }) => type === 'bath-set');
    expect(sent).toMatchObject(usualBaths.map((bath, at) => ({ ...bath, bath: at + 1, baths: 4 })));
    await board.close();
  });

  it('is not mixed with what else is changed meanwhile', async () => {
    const talk = new Talk();
    const board = await talk.open({ setClock: false });
    await talk.over(
      Promise.all([board.setBaths(row(2)), board.renewBath(1), board.setBaths(row(2)), board.renewBath(2)]),
    );
    const changes = talk.peer.types().filter((type) => type.startsWith('bath'));
    expect(changes).toEqual(['bath-set', 'bath-set', 'bath-renew', 'bath-set', 'bath-set', 'bath-renew']);
    await board.close();
  });

  it('that fits no board is not sent', async () => {
    const talk = new Talk();
    const board = await talk.open({ setClock: false });
    for (const length of [0, 9])
      await expect(board.setBaths(row(length))).rejects.toBeInstanceOf(InvalidRequestError);
    expect(talk.peer.types()).toEqual(['hello']);
    await board.close();
  });

  it('is given up where the board says no', async () => {
    const talk = new Talk();
    const board = await talk.open({ setClock: false });
    talk.peer.answer = (message) =>
      message.type === 'bath-set' && message.bath === 2
        ? [{ type: 'error', code: 'not-allowed', text: 'a bath needs a name', field: 0, low: 0, high: 0 }]
        : undefined;
    const error = await talk.over(board.setBaths(row(3))).catch((reason: unknown) => reason);
    expect(error).toBeInstanceOf(RefusedError);
    expect((error as Error).message).toContain('a bath needs a name');
    expect(talk.peer.types().filter((type) => type === 'bath-set')).toHaveLength(2);
    await board.close();
  });

  it('is asked for as long as the board says that there are more', async () => {
    const talk = new Talk();
    const board = await talk.open({ setClock: false });
    const tally = { sheets: 12, areaCm2: 6192 };
    talk.peer.answer = (message) =>
      message.type === 'bath-get'
        ? [{ type: 'bath', bath: message.bath, baths: 3, ...row(3)[message.bath - 1]!, ...tally }]
        : undefined;
    expect(await talk.over(board.allBaths())).toEqual(
      row(3).map((bath, at) => ({ bath: at + 1, baths: 3, ...bath, ...tally })),
    );
    await board.close();
  });
});
