import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readRecipe } from '../../../../host/recipe/index.js';
import { treadle } from '../treadle.js';
import { CTRL_C, CTRL_D, Desk, lines } from './typing.js';

let desk: Desk;
beforeEach(() => {
  desk = new Desk();
});
afterEach(() => desk.clear());

/** Answers to all questions of a recipe with one dodge and one burn, in their order. */
const SLIPWAY = [
  ...['Slipway', '0712', 'RCglossy', '5point6', '4point5', '8', '12s500ms', '1', '2'],
  ...['face', '1third', '', 'sky', '1and1quarter', '00', '', '', '', '', 'yes'],
];

describe('treadle new, at a real pseudo-terminal', () => {
  it('makes a recipe with no key but letters, digits and Return', async () => {
    for (const answer of SLIPWAY) expect(answer).toMatch(/^[A-Za-z0-9]*$/);
    const { screen, exitCode } = await desk.type(['new'], lines(...SLIPWAY));
    expect(exitCode, screen).toBe(0);
    expect(desk.files()).toEqual(['slipway.json']);
    expect(readRecipe(desk.read('slipway.json'))).toMatchObject({
      ...{ title: 'Slipway', name: 'slipway', version: 1, negative: '0712', paper: 'RCglossy' },
      ...{ aperture10: 56, magnification1000: 4500, dryDown10: 80, baseMs: 12_500 },
      passes: [
        { kind: 'base', filter: '2', stops120: 0, dodges: [{ label: 'face', stops120: -40 }] },
        { kind: 'burn', label: 'sky', filter: '00', stops120: 150, dodges: [] },
      ],
    });
  });

  it('shows before it writes what the board will do, pass by pass, as the planner has it', async () => {
    const { screen } = await desk.type(['new'], lines(...SLIPWAY));
    const summary = screen.slice(screen.indexOf('pass  what'), screen.indexOf('Write it to'));
    // 12.5 s less 8 % is 11.5 s; 1 1/4 stop more is 11.5 x (2^1.25 - 1) = 15.853 s. Arithmetic of stops.
    expect(summary).toMatch(/1 {2}base +2 +0 {2}11\.500 s/);
    expect(summary).toMatch(/dodge face +2\.372 s/);
    expect(summary).toMatch(/2 {2}burn sky +00 +\+1 1\/4 {2}15\.852 s/);
  });

  it('explains every question to who asks, and asks it again', async () => {
    const keys = SLIPWAY.flatMap((answer) => lines('?', answer));
    const { screen, exitCode } = await desk.type(['new'], keys);
    expect(exitCode, screen).toBe(0);
    const explained = [...screen.matchAll(/^(.*): \?\n(.+)\n/gm)];
    expect(explained).toHaveLength(SLIPWAY.length);
    for (const [, question, words] of explained) expect(words, question).toMatch(/^.{30,}$/);
  });

  it('goes back, keeps what was answered ready, and writes what was answered last', async () => {
    const [title, negative, ...rest] = SLIPWAY;
    const { screen, exitCode } = await desk.type(
      ['new'],
      lines(title!, '8888', 'back', 'back', '', negative!, ...rest),
    );
    expect(exitCode, screen).toBe(0);
    expect(screen).toContain('Title of the print [Slipway]: \n');
    expect(screen).toContain(`Negative [8888]: ${negative}\n`);
    expect(readRecipe(desk.read('slipway.json')).negative).toBe('0712');
  });

  it('stays at the first question when there is nothing to go back to', async () => {
    const { screen } = await desk.type(['new'], lines('back', 'quit'));
    expect(screen).toContain('This is the first question.\nTitle of the print: quit');
  });

  it('asks again after a wrong answer, and says what was wrong and what would be right', async () => {
    const wrong = [
      ...['', 'Pier', '', '', 'wide', '8', 'big', '4', '60', '0', '2h', '10', '1', ''],
      ...['face', 'tiny', '2', 'hand', '3'],
    ];
    const { screen } = await desk.type(['new'], [...lines(...wrong), CTRL_C]);
    expect(screen).toContain(
      'That will not do: there is no usual answer to this; type one\nTitle of the print: Pier',
    );
    expect(screen).toContain("'wide' is not an aperture; write it as f/8 or f/5.6");
    expect(screen).toContain("'big' is not a number above zero; write it as 4 or 4.5\nMagnification");
    expect(screen).toContain('is not a dry-down; write it as 8% or 8.5%, from 0% to 50%\nLess light');
    expect(screen).toContain("'2h' is out of range; from 0.001s to 1h is possible\nBase exposure");
    expect(screen).toContain("'tiny' is not a number of stops");
    expect(screen).toMatch(/the dodges need .* but their pass has only .*\nHold 'hand' back/);
  });

  it.each([
    ['Ctrl-C', [...lines('Slipway', '12'), CTRL_C], 'Nothing was written.', { exitCode: 0, signal: 2 }],
    ['Ctrl-D', [...lines('Slipway'), CTRL_D], 'stopped; nothing was written', { exitCode: 1, signal: 0 }],
    ['the word quit', lines('Slipway', 'quit'), 'stopped; nothing was written', { exitCode: 1, signal: 0 }],
    [
      'no at the end',
      lines(...SLIPWAY.slice(0, -1), 'no'),
      'nothing was written',
      { exitCode: 1, signal: 0 },
    ],
  ])('leaves nothing behind after %s', async (_, keys, words, outcome) => {
    const { screen, ...ended } = await desk.type(['new'], keys);
    expect(ended, screen).toMatchObject(outcome);
    expect(screen).toContain(words);
    expect(desk.files()).toEqual([]);
  });

  it('never writes over a file that is there', async () => {
    await desk.type(['new'], lines(...SLIPWAY));
    const before = desk.read('slipway.json');
    const again = [...SLIPWAY.slice(0, -2), 'slipway.json', '', 'yes'];
    const { screen, exitCode } = await desk.type(['new'], lines(...again));
    expect(exitCode, screen).toBe(0);
    expect(screen).toContain('slipway.json is there already\nFile [slipway2.json]: \n');
    expect(desk.files()).toEqual(['slipway.json', 'slipway2.json']);
    expect(desk.read('slipway.json')).toBe(before);
  });

  it('has paper, lens, size and filter of the last recipe ready for the next one', async () => {
    await desk.type(['new'], lines(...SLIPWAY));
    const { screen, exitCode } = await desk.type(['new'], lines('Quay', ...Array(13).fill(''), 'yes'));
    expect(exitCode, screen).toBe(0);
    expect(screen).toContain("Paper, lens stop, size and filter are ready as for 'Slipway'.");
    expect(readRecipe(desk.read('quay.json'))).toMatchObject({
      ...{ paper: 'RCglossy', aperture10: 56, magnification1000: 4500, dryDown10: 80 },
      ...{ negative: '', baseMs: 10_000, passes: [{ filter: '2', dodges: [] }] },
    });
  });

  it('reads so at a terminal of 80 columns, to somebody who asks, errs and goes back', async () => {
    const keys = lines(
      ...[
        '?',
        'Slipway',
        '07 12',
        'RC glossy',
        'x',
        '8',
        'back',
        '?',
        '5point6',
        '?',
        '4',
        '8',
        '12',
        '',
        '2',
      ],
      ...[
        '?',
        'face',
        '?',
        '1third more',
        'third',
        '',
        'sky',
        '?',
        '3quarters',
        '00',
        '',
        '',
        '?',
        '',
        '',
        'yes',
      ],
    );
    const { screen } = await desk.type(['new'], keys, undefined, 80);
    await expect(screen).toMatchFileSnapshot('golden-new.txt');
  });

  it('takes answers that were pasted all at once', async () => {
    const { screen, exitCode } = await desk.type(['new'], [lines(...SLIPWAY).join('')]);
    expect(exitCode, screen).toBe(0);
    expect(screen).toContain('\nPaper [none]: RCglossy\n');
    expect(readRecipe(desk.read('slipway.json')).passes).toHaveLength(2);
  });

  it('makes a split-grade base of two, each with its filter and its offset', async () => {
    const keys = lines(
      ...['Pier', '', '', '', '', '', '8', '2', '00', 'none', '5', 'minus1third'],
      ...['', '', '', '', '', 'yes'],
    );
    const { screen, exitCode } = await desk.type(['new'], keys);
    expect(exitCode, screen).toBe(0);
    expect(readRecipe(desk.read('pier.json')).passes).toMatchObject([
      { kind: 'base', label: 'base', filter: '00', stops120: 0 },
      { kind: 'base', label: 'base 2', filter: '5', stops120: -40 },
    ]);
  });

  it('colours nothing', async () => {
    const { raw } = await desk.type(['new'], lines(...SLIPWAY));
    // biome-ignore lint/suspicious/noControlCharactersInRegex: control sequences are what it looks for
    expect(raw).not.toMatch(/\u001b\[[\d;]*m/);
  });
});

describe('treadle new --from old notes', () => {
  const NOTES = '10 s, 3 s dodge face, 8 s burn sky';
  /** Return for all but the title. */
  const PIER = ['Pier', ...Array.from({ length: 18 }, () => ''), 'yes'];

  it('has their base and stops ready, and says how they came about', async () => {
    const { screen, exitCode } = await desk.type(['new', '--from', NOTES], lines(...PIER));
    expect(exitCode, screen).toBe(0);
    // log2(0.7) = -0.514573 and log2(1.8) = 0.847997. Arithmetic of stops.
    expect(screen).toContain("dodge 'face' 3s: log2(1 - 3s / 10s) = -0.514573 stop, which gives 3.000 s");
    expect(screen).toContain("burn 'sky' 8s: log2(1 + 8s / 10s) = +0.847997 stop, which gives 8.000 s");
    expect(readRecipe(desk.read('pier.json'))).toMatchObject({
      ...{ title: 'Pier', baseMs: 10_000, notes: `From old notes: ${NOTES}` },
      passes: [{ dodges: [{ label: 'face', stops120: -61.74876 }] }, { label: 'sky', stops120: 101.75964 }],
    });
  });

  it('asks nothing where the rest is set', async () => {
    const words = ['new', '--from', NOTES, '--set', 'title=Pier', '--set', 'filter=2'];
    const ran = await treadle(words, '', {}, desk.folder);
    expect(ran).toMatchObject({ code: 0, err: "'pier' version 1 is in pier.json.\n" });
    expect(ran.out).toContain("burn 'sky' 8s: log2(1 + 8s / 10s) = +0.847997 stop");
    expect(await treadle(words, '', {}, desk.folder)).toMatchObject({ code: 2, out: '' });
  });

  it('says what it does not understand', async () => {
    const ran = await treadle(['new', '--from', '10 s, 4 s sky'], '', {}, desk.folder);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain("--from: '4 s sky' does not say whether 'sky' is dodged or burnt");
  });
});

describe('treadle new, without a terminal', () => {
  it('ends at once, and says what to do', async () => {
    const ran = await treadle(['new'], '', {}, desk.folder);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('--answers FILE');
  });

  it('takes the answers of a script, one a line', async () => {
    const ran = await treadle(['new', '--answers', '-'], `${SLIPWAY.join('\n')}\n`, {}, desk.folder);
    expect(ran, ran.err).toMatchObject({ code: 0, err: "'slipway' version 1 is in slipway.json.\n" });
    expect(readRecipe(desk.read('slipway.json')).baseMs).toBe(12_500);
  });

  it.each([
    [
      'are too few',
      SLIPWAY.slice(0, 5),
      "--answers, line 6: they end before 'Less light for dry-down' is answered",
    ],
    ['are too many', [...SLIPWAY, 'more'], '--answers: 1 answer left over'],
    ['cannot be', ['Slipway', '', '', 'wide'], "--answers, line 4: 'Lens stop': 'wide' is not an aperture"],
  ])('writes nothing when the answers %s', async (_, answers, words) => {
    const ran = await treadle(['new', '--answers', '-'], `${answers.join('\n')}\n`, {}, desk.folder);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain(words);
    expect(ran.err).toContain('nothing was written');
    expect(desk.files()).toEqual([]);
  });
});
