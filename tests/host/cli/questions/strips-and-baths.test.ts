import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readBaths, readWholeBaths } from '../../../../host/recipe/baths/index.js';
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

  // It was taken, and every number of patches was refused for it, two questions later.
  it('refuses a step below zero where it is asked for', async () => {
    const { screen } = await desk.type(['new', 'strip'], lines('5', '-1', '1', 'covered', 'quit'));
    expect(screen).toContain('within that range\nStep from patch to patch');
    expect(screen).toContain('Patches [6]: quit');
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
      ...['', '2m', '', '10s', '', '', ''],
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

  // The board developed by temperature, and only somebody who wrote JSON by hand could give it the times.
  it('asks for the times of the developer by temperature, with nothing but letters and digits', async () => {
    const keys = [
      '',
      '90s',
      '2m30s',
      '10s',
      '30s',
      '18C',
      '2m',
      '200s',
      '20point5C',
      '80s',
      'help',
      '2m10s',
      '68F',
      '',
      '',
      'none',
    ];
    for (const key of keys) expect(key).toMatch(/^[A-Za-z0-9]*$/);
    const rest = ['none', 'none', 'none', 'none', 'none', '', 'yes'];
    const { screen, exitCode } = await desk.type(['new', 'baths'], lines(...keys, ...rest));
    expect(exitCode, screen).toBe(0);
    expect(screen).toContain("'developer' at 20.5C, fibre paper [2m30s]: help\nFrom the data sheet");
    expect(screen).toMatch(
      /By the temperature of the tray:\n.*\ndeveloper +18C +2m +3m20s\ndeveloper +20C +1m30s +2m30s\n/,
    );
    expect(readWholeBaths(desk.read('baths.json')).times).toEqual([
      { label: 'developer', trayC10: 180, resinCoatedSeconds: 120, fibreSeconds: 200 },
      { label: 'developer', trayC10: 200, resinCoatedSeconds: 90, fibreSeconds: 150 },
      { label: 'developer', trayC10: 205, resinCoatedSeconds: 80, fibreSeconds: 130 },
    ]);
  });

  it('says what a time by temperature may be, and goes back past it', async () => {
    const keys = lines(
      ...[
        '',
        '',
        '',
        '10s',
        '',
        '20',
        '60C',
        '20C',
        '10s',
        'back',
        '21C',
        '',
        '',
        'none',
        '21C',
        '24C',
        '',
        '',
      ],
      'quit',
    );
    const { screen } = await desk.type(['new', 'baths'], keys);
    expect(screen).toContain("'20' is not a temperature; write it as 20C, 20.5C or 68F\n");
    expect(screen).toContain("'60C' is out of range; from 5C to 45C is possible\n");
    expect(screen).toContain('draining is part of the time, and takes 10s of it; write a longer one\n');
    expect(screen).toContain('one temperature alone tells nothing of others; give a second one');
    expect(screen).toContain('21C is there already: give each temperature once\n');
    expect(desk.files()).toEqual([]);
  });

  it('has them set, changed and taken out by --set, and keeps those that are there', async () => {
    const given = ['18C.fibre=200s', '18C.resinCoated=2m', '24C.fibre=2m', '24C.resin-coated=70s'];
    const made = await run('new', 'baths', ...given.flatMap((one) => ['--set', `developer.${one}`]));
    expect(made).toMatchObject({ code: 0 });
    const ran = await run(
      'change',
      'baths.json',
      '--set',
      '1.20C.fibre=160s',
      '--set',
      'developer.20C.resinCoated=95s',
    );
    expect(ran).toMatchObject({ code: 0 });
    expect(ran.out).toContain('resin-coated paper at 18C 2m, 20C 1m35s, 24C 1m10s');
    expect((await run('change', 'baths.json', '--set', 'developer.18C=none')).code).toBe(0);
    expect(
      readWholeBaths(desk.read('baths.json')).times.map(({ trayC10, fibreSeconds }) => [
        trayC10,
        fibreSeconds,
      ]),
    ).toEqual([
      [200, 160],
      [240, 120],
    ]);
    const asked = await desk.type(
      ['change', 'baths.json'],
      lines(...Array<string>(6).fill(''), 'none', ...Array<string>(4).fill(''), 'quit'),
    );
    expect(asked.screen).toContain("'developer', a time at another temperature [20C]: ");
  });

  it.each([
    [
      'developer.18C.fibre=3m',
      /'developer': a time at one temperature tells nothing of others; give two or more/,
    ],
    ['developer.18C=3m', /--set developer\.18C: name the paper too, as developer\.18C\.fibre/],
    ['developer.60C.fibre=3m', /'60C' is out of range/],
  ])('refuses %s in words, and writes nothing', async (setting, words) => {
    const ran = await run('new', 'baths', '--set', setting);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(words);
    expect(desk.files()).toEqual([]);
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
