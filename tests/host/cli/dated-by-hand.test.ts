import { beforeAll, describe, expect, it } from 'vitest';
import type { LogRecord } from '../../../host/board/link/log-record.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { ownFolder } from '../../proof/robustness/archive-folder.js';
import { treadle } from './treadle.js';

const BOARD = '00000000000000a1';
const fileOf = ownFolder();

/** A power-on with one sheet in it; where the time was told, at nine in the evening of a day of March 2027. */
function powerOn(boot: number, day?: number): LogRecord[] {
  const told = day === undefined ? [] : [new Date(2027, 2, day, 21).getTime()];
  const types = ['started', ...(told.length > 0 ? ['clock'] : []), 'exposure'];
  return types.map((type, at) => {
    const head = [boot, boot * 10 + at, at * 60_000] as const;
    const rest = {
      started: ['power', 0],
      clock: told,
      exposure: ['base', 'boathouse', 1, 0, 'sky', '2', 12_500, 12_600, 12_480, 'complete', 0, 3],
    }[type]!;
    return { boot: head[0], seq: head[1], uptimeMs: head[2], type, fields: [...head, ...rest] };
  });
}

describe('a night that no laptop told the time of', () => {
  let file: string;
  const nights = (...words: string[]) => treadle(['nights', '--archive', file, ...words]);
  beforeAll(async () => {
    file = fileOf('dateless.sqlite');
    const archive = await openArchive(file);
    await archive.keepRecords(BOARD, 0, [...powerOn(1, 5), ...powerOn(2), ...powerOn(3), ...powerOn(4, 8)]);
    await archive.close();
  });

  it('is listed by its number, and shown by it', async () => {
    const { out } = await nights();
    expect(out).toMatch(/^night 1 without a date .*power-on 2 of board\s+00000000000000a1$/m);
    expect(out).toMatch(/^night 2 without a date .*power-on 3 of board/m);
    expect((await nights('--night', '1')).out).toMatch(/sky/);
    expect((await nights('--night', '9')).err).toContain("'9' is no night without a date; there are 1, 2");
  });

  it('is given its date afterwards, which every view shows and which can be corrected', async () => {
    expect((await nights('--date', '2027-03-06', '1')).err).toBe(
      'Night 1 (power-on 2 of board 00000000000000a1) was the night of 2027-03-06.\n',
    );
    expect((await nights('--night', '2027-03-06')).out).toMatch(/sky/);
    expect((await nights()).out.replace(/\s+/g, ' ')).toContain(`dated by hand: night 1 of board ${BOARD}`);
    const csv = (await nights('--csv', '--night', '2027-03-06')).out.split('\r\n');
    expect(csv[0]).toBe(
      'night,date,time,zone,board,power-on,number,minutes on,what,recipe,sheet,pass,patch,label,filter,planned s,lamp on s,light s,outcome,pauses,note,rating,remark,board name',
    );
    expect(csv[2]).toBe(
      '2027-03-06,,,,00000000000000a1,2,21,1.0,base,boathouse,3,1,0,sky,2,12.500,12.600,12.480,complete,0,,,,',
    );
    const json = (await nights('--json', '--night', '2027-03-06')).out.trim().split('\n');
    expect(JSON.parse(json[1]!)).toMatchObject({ night: '2027-03-06', at: null });
    expect((await nights('--date', '2027-03-07', '1')).code).toBe(0);
    expect((await nights('--night', '2027-03-06')).err).toContain('Nothing was logged that night');
    expect((await nights('--date', 'unknown', '1')).code).toBe(0);
    expect((await nights()).out).toMatch(/^night 1 without a date/m);
  });

  // The board's power-ons came one after another, so the second of March cannot come after the fifth.
  it.each([
    ['2027-03-04', /switched on on 2027-03-05 before that, and on 2027-03-08 after it.*give a date between/],
    [
      '2027-03-09',
      /switched on on 2027-03-05 before that, .*; give a date between 2027-03-05 and 2027-03-08$/m,
    ],
    ['2027-02-30', /'2027-02-30' is no date/],
  ])('cannot be dated %s', async (date, words) => {
    const ran = await nights('--date', date, '2');
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(words);
  });

  it('can be the night of the power-on before it, or of the one after: a board may be switched off and on in a night', async () => {
    for (const date of ['2027-03-05', '2027-03-08'])
      expect(await nights('--date', date, '2')).toMatchObject({ code: 0, out: '' });
    expect((await nights('--date', 'unknown', '2')).code).toBe(0);
  });

  it('has the time of day and its zone for a spreadsheet, where the time was told', async () => {
    const csv = (await nights('--csv', '--night', '2027-03-05')).out.split('\r\n');
    const two = (part: number) => `${part}`.padStart(2, '0');
    const ahead = -new Date(2027, 2, 5, 21).getTimezoneOffset();
    const zone = `UTC${ahead < 0 ? '-' : '+'}${two(Math.floor(Math.abs(ahead) / 60))}:${two(Math.abs(ahead) % 60)}`;
    expect(csv[2]).toMatch(
      new RegExp(`^2027-03-05,2027-03-05,21:01:00,${zone.replace('+', '\\+')},${BOARD},1,`),
    );
  });

  it('of a board that there is not, is told so', async () => {
    const ran = await nights('--board', 'zzz');
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain(`has nothing of board 'zzz'; it has ${BOARD}`);
  });
});
