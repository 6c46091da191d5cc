import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BoardAtAPort } from './board-at-a-port.js';
import { treadle } from './treadle.js';

describe('treadle baths, on a simulated board', () => {
  let desk: BoardAtAPort;
  beforeAll(async () => {
    desk = await BoardAtAPort.start();
  });
  afterAll(() => desk.close());

  it('shows the usual row until another is set', async () => {
    expect((await desk.treadle('baths')).out).toBe(
      `bath             resin-coated  fibre  drain  agitation  since mixed      limit  left
   1  developer         1m30s  2m30s    10s  every 10s  0 sheets, 0 cm2  -
   2  stop                20s    30s     5s  -          0 sheets, 0 cm2  -
   3  fixer             1m30s     5m    10s  every 30s  0 sheets, 0 cm2  -
   4  wash                 3m     1h    10s  -          0 sheets, 0 cm2  -
`,
    );
  });

  it('sets a row from a file, and shows what it has become, areas as sheets too', async () => {
    const file = desk.file('baths.json');
    writeFileSync(
      file,
      '{"baths":[{"label":"bath A","resinCoated":"60s","drain":"10s","limit":"40 x 8x10in"},{"label":"bath B","fibre":"4m"}]}',
    );
    const { code, out } = await desk.treadle('baths', 'set', file);
    expect(code).toBe(0);
    expect(out).toMatch(
      /^ +1 {2}bath A +1m +- +10s {2}- +0 sheets, 0 cm2 {2}40 sheets, 20640 cm2 {2}40 sheets, 20640 cm2$/m,
    );
    expect(out).toMatch(/^ +2 {2}bath B +- +4m +- {2}- +0 sheets, 0 cm2 {2}-$/m);
    expect((await desk.treadle('baths', 'show')).out).toBe(out);
  });

  it('tells scripts the same', async () => {
    const row = JSON.parse((await desk.treadle('baths', '--json')).out);
    expect(row).toMatchObject([
      {
        ...{ bath: 1, baths: 2, label: 'bath A', resinCoatedSeconds: 60, fibreSeconds: 0, drainSeconds: 10 },
        ...{ agitationSeconds: 0, limitCm2: 20_640, sheets: 0, areaCm2: 0 },
        left: { cm2: 20_640, sheets: 40, overCm2: 0 },
      },
      { bath: 2, label: 'bath B', left: null },
    ]);
  });

  it('is told by name or number which one was mixed', async () => {
    for (const word of ['Bath a', '1'])
      expect(await desk.treadle('baths', 'mixed', word)).toEqual({
        code: 0,
        out: '',
        err: 'Bath 1, bath A, now starts at zero. 0 sheets, 0 cm2 went through the old one.\n',
      });
  });

  // 30C was taken without a word, and then the bath did not begin.
  it('says which baths wait while the tray is colder or warmer than their times', async () => {
    const file = desk.file('by-temperature.json');
    const at = (temperature: string, resinCoated: string) => ({ at: temperature, resinCoated });
    const first = {
      label: 'bath A',
      resinCoated: '60s',
      byTemperature: [at('18C', '90s'), at('24C', '45s')],
    };
    writeFileSync(file, JSON.stringify({ baths: [first, { label: 'bath B', resinCoated: '20s' }] }));
    expect((await desk.treadle('baths', 'set', file)).code).toBe(0);
    expect((await desk.treadle('baths', 'tray', '30C')).err).toBe(
      'The tray is at 30C. bath A has times from 18C to 24C: the board does not begin it until the tray is there.\n',
    );
    expect((await desk.treadle('baths', 'tray', '24C')).err).toBe('The tray is at 24C.\n');
  });

  it('finds no bath that there is not', async () => {
    for (const word of ['3', 'toner']) {
      const ran = await desk.treadle('baths', 'mixed', word);
      expect(ran).toMatchObject({ code: 2, out: '' });
      expect(ran.err).toBe(`treadle: '${word}': no bath is called that; the baths are 1 bath A, 2 bath B\n`);
    }
  });

  it('leaves the board alone when the file is wrong', async () => {
    const file = desk.file('wrong.json');
    writeFileSync(file, '{"baths":[{"label":"dip"}]}');
    const ran = await desk.treadle('baths', 'set', file);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain(`${file} cannot be used:\nline 1, column 11, baths[0]: no paper goes in`);
    expect((await desk.treadle('baths')).out).toContain('bath A');
  });

  it('asks which when several are called the same but for capitals', async () => {
    const file = desk.file('twice.json');
    const wash = (label: string) => `{"label":"${label}","resinCoated":"2m"}`;
    writeFileSync(file, `{"baths":[${wash('Wash')},${wash('wash')}]}`);
    await desk.treadle('baths', 'set', file);
    const ran = await desk.treadle('baths', 'mixed', 'wash');
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('several baths are called that; give the number; the baths are 1 Wash, 2 wash');
    expect((await desk.treadle('baths', 'mixed', '2')).code).toBe(0);
  });

  it('mixed stands in the log', async () => {
    await desk.treadleWithArchive('collect');
    const { out } = await treadle(['nights', '--night', 'last', '--archive', desk.archive]);
    expect(out).toMatch(/^\S+ +bath 1, bath A: mixed fresh$/m);
  });

  it('a strip is sent from its file, and is what the board starts next', async () => {
    const file = desk.file('wide.json');
    writeFileSync(file, '{"first":"2s","step":"1","patches":7}');
    const ran = await desk.treadle('strip', '--file', file, '--filter', '2', '--send');
    expect(ran.code).toBe(0);
    expect(ran.out).toContain('7 patches from 2.000 s in steps of +1 stop, covered one by one');
    expect(ran.err).toBe(`The strip is on board ${desk.board.id}: the pedal starts it.\n`);
    expect((await desk.treadle('info')).out).toMatch(/^next +strip$/m);
    expect(desk.board.panel.join('\n')).toContain('2.00 s      filter 2\n7 patches, 1 st');
  });

  it('info says what is known of the safelight and the paper', async () => {
    const { out } = await desk.treadle('info');
    expect(out).toMatch(/^paper +resin-coated, 516 cm2 a sheet$/m);
    expect(out).toMatch(/^safelight +not tested yet: /m);
    await desk.treadle('settings', 'set', 'safe-minutes', '3');
    await desk.treadle('settings', 'set', 'fibre-paper', '1');
    expect((await desk.treadle('info')).out).toMatch(
      /^paper +fibre, .*\nsafelight +paper may lie out for 3 min$/m,
    );
    await desk.treadle('settings', 'set', 'safe-minutes', '0');
    expect((await desk.treadle('info')).out).toMatch(/^safelight +not safe: /m);
    expect(JSON.parse((await desk.treadle('info', '--json')).out)).toMatchObject({
      ...{ safeMinutes: 0, paper: 'fibre', sheetCm2: 516 },
    });
  });
});

describe('treadle baths usual, without a board', () => {
  let desk: BoardAtAPort;
  beforeAll(async () => {
    desk = await BoardAtAPort.start();
  });
  afterAll(() => desk.close());

  it('prints a file to start from, or writes it, never over another', async () => {
    const printed = await treadle(['baths', 'usual']);
    expect(printed).toMatchObject({ code: 0, err: '' });
    const file = desk.file('usual.json');
    expect(await treadle(['baths', 'usual', '--output', file])).toMatchObject({ code: 0, out: '' });
    expect(readFileSync(file, 'utf8')).toBe(printed.out);
    expect((await treadle(['baths', 'usual', '--output', file])).err).toContain('is there already');
    expect((await desk.treadle('baths', 'set', file)).code).toBe(0);
  });
});
