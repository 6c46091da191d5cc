import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readBaths } from '../../../../host/recipe/baths/index.js';
import { readStrip } from '../../../../host/recipe/strip-file.js';
import { treadle } from '../treadle.js';
import { Desk, lines } from './typing.js';

let desk: Desk;
beforeEach(() => {
  desk = new Desk();
});
afterEach(() => desk.clear());
const run = (...words: string[]) => treadle(words, '', {}, desk.folder);

describe('treadle new strip', () => {
  const STRIP = ['5', 'half', 'alone', '5', '00', '', '', 'yes'];

  it('asks with letters and digits, explains each question, and shows the planned patches', async () => {
    for (const answer of STRIP) expect(answer).toMatch(/^[A-Za-z0-9]*$/);
    const keys = STRIP.flatMap((answer) => lines('help', answer));
    const { screen, exitCode } = await desk.type(['new', 'strip'], keys);
    expect(exitCode, screen).toBe(0);
    expect([...screen.matchAll(/: help\n.{25,}\n/g)]).toHaveLength(STRIP.length);
    // 5 s and two stops more, in halves: 5 x 2^(4/2). Arithmetic of stops.
    expect(screen).toMatch(/ 5 {2}20\.000 s +\+2\n/);
    expect(readStrip(desk.read('strip.json'))).toEqual({
      ...{ firstMs: 5_000, step: { stops120: 60 }, patches: 5, cover: 'separate', filter: '00' },
    });
  });

  it('says of a wrong answer what it may be', async () => {
    const keys = lines('0', '5', '1third2', 'back', '', '1third', 'both', 'covered', '13', '12', 'quit');
    const { screen } = await desk.type(['new', 'strip'], keys);
    expect(screen).toContain('from 0.001s to 1h is possible\nLightest patch');
    expect(screen).toContain("'1third2' is not a number of stops");
    expect(screen).toContain("'both' is not a way to give a strip; write covered or alone\n");
    expect(screen).toContain("'13' is not a whole number from 2 to 12\nPatches");
  });

  it('is changed by --set, in its place', async () => {
    expect(await run('new', 'strip', '--set', 'first=5s', '--set', 'step=half')).toMatchObject({ code: 0 });
    const ran = await run('change', 'strip.json', '--set', 'step=5s', '--set', 'cover=alone');
    expect(ran).toMatchObject({ code: 0, err: 'The strip is in strip.json.\n' });
    expect(ran.out).toContain('step +1/2 -> 5s\ncover cumulative -> separate\n');
    expect(readStrip(desk.read('strip.json'))).toMatchObject({ firstMs: 5_000, step: { equalMs: 5_000 } });
  });

  it('is refused where it could not be exposed', async () => {
    const ran = await run('new', 'strip', '--set', 'first=50m', '--set', 'step=1');
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('this strip cannot be exposed');
    expect(desk.files()).toEqual([]);
  });
});

describe('treadle new baths', () => {
  it('goes through the usual row, bath by bath, and takes out, changes and adds', async () => {
    const keys = lines(
      ...['', '2m', '', '10s', '', ''],
      'none',
      ...['', '', 'none', '', '', '40x8x10in'],
      ...['', '', '', '', '', ''],
      ...['toner', '3m', 'none', '5s', 'none', 'none', 'none', '', 'yes'],
    );
    const { screen, exitCode } = await desk.type(['new', 'baths'], keys);
    expect(exitCode, screen).toBe(0);
    expect(screen).toMatch(/ 4 {2}toner +3m +- +5s +- +-\n/);
    expect(readBaths(desk.read('baths.json'))).toMatchObject([
      { label: 'developer', resinCoatedSeconds: 120, fibreSeconds: 150 },
      { label: 'fixer', fibreSeconds: 0, limitCm2: 20_640 },
      { label: 'wash' },
      { label: 'toner', resinCoatedSeconds: 180, fibreSeconds: 0, drainSeconds: 5, agitationSeconds: 0 },
    ]);
  });

  it('checks each bath as it is answered', async () => {
    const keys = lines(
      ...[
        'none',
        'none',
        'none',
        'none',
        'none',
        'developer',
        '90',
        '90s',
        '2m',
        '2m',
        '10s',
        'none',
        'none',
      ],
      ...['developer', 'fixer', 'none', 'none', 'quit'],
    );
    const { screen } = await desk.type(['new', 'baths'], keys);
    expect(screen).toContain('a row needs a bath; write its name\nAnother bath');
    expect(screen).toContain("'90' is not a time; write it with its unit");
    expect(screen).toContain("draining is part of the bath's time, and resinCoated has only 1m30s in all\n");
    expect(screen).toContain("there is a bath 'developer' already; give each its own name\nAnother bath");
    expect(screen).toContain('no paper goes in');
  });

  it('is changed by --set, and only there', async () => {
    expect((await run('new', 'baths', '--set', 'fixer.limit=2m2')).code).toBe(0);
    const before = desk.read('baths.json');
    const ran = await run('change', 'baths.json', '--set', 'developer.fibre=3m', '--set', 'stop.drain=none');
    expect(ran).toMatchObject({ code: 0, err: 'The row of baths is in baths.json.\n' });
    expect(ran.out).toContain(
      'developer resin-coated 1m30s, fibre 2m30s, draining 10s, agitation every 10s -> ',
    );
    expect(desk.read('baths.json')).toBe(
      before.replace('"2m30s"', '"3m"').replace(',\n      "drain": "5s"', ''),
    );
  });

  it.each([
    ['foxer.drain=1s', /nothing called 'foxer\.drain'; there are developer, developer\.resinCoated/],
    ['fixer.drain=100s', /'fixer': draining is part of the bath's time/],
    ['fixer.drain=5', /--set fixer\.drain: '5' is not a time/],
    ['fixer=stop', /'stop': 'stop' is bath 2 already/],
  ])('refuses %s in words, and writes nothing', async (setting, words) => {
    const ran = await run('new', 'baths', '--set', setting);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(words);
    expect(desk.files()).toEqual([]);
  });

  it('makes no recipe of old notes', async () => {
    expect((await run('new', 'baths', '--from', '10 s')).err).toContain('--from makes a recipe');
  });
});
