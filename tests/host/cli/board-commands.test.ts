import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readRecipe, toBoardRecipe } from '../../../host/recipe/index.js';
import { projectRoot, projectVersion as version } from '../../../shared-protocol/project.js';
import { BoardAtAPort } from './board-at-a-port.js';
import { treadle, treadleUntil } from './treadle.js';

const demoRecipe = `${projectRoot}/host/evening/boathouse.json`;

describe('the commands for a board, on a simulated one at a pseudo-terminal', () => {
  let desk: BoardAtAPort;
  beforeAll(async () => {
    desk = await BoardAtAPort.start();
  });
  afterAll(() => desk.close());

  it('info tells who it is and where it stands', async () => {
    const { code, out } = await desk.treadle('info');
    expect(code).toBe(0);
    expect(out).toMatch(new RegExp(`^board +${desk.board.id}$`, 'm'));
    expect(out).toMatch(
      new RegExp(`^firmware +${version.replaceAll('.', '\\.')} \\(protocol \\d+, schema [0-9a-f]{8}`, 'm'),
    );
    expect(out).toMatch(/^state +rest$/m);
  });

  it('info tells scripts the same', async () => {
    const { out } = await desk.treadle('info', '--json');
    expect(JSON.parse(out)).toMatchObject({
      boardId: desk.board.id,
      firmwareVersion: version,
      inStep: true,
      state: 'rest',
    });
  });

  it('push, recipes, fetch and drop carry a recipe there and back', async () => {
    expect(await desk.treadleWithArchive('send', demoRecipe)).toMatchObject({ code: 0, out: '' });
    const listed = JSON.parse((await desk.treadle('recipes', '--json')).out);
    expect(listed).toMatchObject([{ name: 'boathouse', version: 1, passes: 3, baseMs: 12_500 }]);
    const fetched = await desk.treadleWithArchive('save', 'boathouse');
    const asTheBoardKeepsIt = (text: string) => toBoardRecipe(readRecipe(text));
    expect(asTheBoardKeepsIt(fetched.out)).toEqual(asTheBoardKeepsIt(readFileSync(demoRecipe, 'utf8')));
    expect((await desk.treadle('remove', 'boathouse')).code).toBe(0);
    expect((await desk.treadle('recipes')).out).toBe('There is no recipe on the board.\n');
  });

  it('a dry-down sheet is sent as a recipe with a pass for each patch', async () => {
    const ran = await desk.treadleWithArchive('dry-down', '--sheet', '10', '--filter', '2', '--send');
    expect(ran).toMatchObject({ code: 0 });
    expect(ran.out).toMatch(/^ +3 +6.2% +9.384 s$/m);
    expect(ran.err).toContain(`'dry-down-10s-2' version 1 is on board ${desk.board.id}`);
    const listed = JSON.parse((await desk.treadle('recipes', '--json')).out);
    expect(listed).toMatchObject([{ name: 'dry-down-10s-2', passes: 7, baseMs: 10_000 }]);
    expect((await desk.treadle('remove', 'dry-down-10s-2')).code).toBe(0);
  });

  it('fetch never writes over a file unasked', async () => {
    await desk.treadleWithArchive('send', demoRecipe);
    const file = desk.file('fetched.json');
    expect((await desk.treadleWithArchive('save', 'boathouse', '--output', file)).code).toBe(0);
    const again = await desk.treadleWithArchive('save', 'boathouse', '--output', file);
    expect(again).toMatchObject({ code: 2, out: '' });
    expect(again.err).toContain('is there already');
    expect((await desk.treadleWithArchive('save', 'boathouse', '--output', file, '--force')).code).toBe(0);
  });

  it('fetch and drop of what is not there are bad input', async () => {
    for (const word of ['save', 'remove']) {
      const ran = await desk.treadle(word, 'nowhere');
      expect(ran).toMatchObject({ code: 2, out: '' });
      expect(ran.err).toContain("no recipe 'nowhere': 'treadle recipes' lists");
    }
  });

  it('send refuses a recipe that cannot be printed, before the board is asked', async () => {
    const ran = await desk.treadleWithArchive('send', desk.file('none.json'));
    expect(ran).toMatchObject({
      code: 2,
      err: `treadle: <recipe>: cannot read ${desk.file('none.json')}: there is no such file or folder\n`,
    });
  });

  it('settings are shown with their range and meaning, and kept', async () => {
    expect((await desk.treadle('settings')).out).toMatch(
      /^focus-limit-s +180 s +10 to 900 +a focus light left on/m,
    );
    expect((await desk.treadle('settings', 'set', 'focus-limit-s', '2min')).out).toContain('120 s');
    const shown = JSON.parse((await desk.treadle('settings', 'show', '--json')).out);
    expect(shown).toContainEqual(
      expect.objectContaining({ name: 'focus-limit-s', value: 120, min: 10, max: 900 }),
    );
  });

  it('settings takes a lag below nothing with its unit as without, and one that cannot be is no unknown option', async () => {
    expect((await desk.treadle('settings', 'set', 'lamp-lag-ms', '-5ms')).out).toMatch(
      /^lamp-lag-ms +-5 ms/m,
    );
    expect((await desk.treadle('settings', 'set', 'lamp-lag-ms', '-6')).out).toMatch(/^lamp-lag-ms +-6 ms/m);
    const beyond = await desk.treadle('settings', 'set', 'lamp-lag-ms', '-700ms');
    expect(beyond).toMatchObject({ code: 2, out: '' });
    expect(beyond.err).toContain('is not possible; -500 to 1000 ms');
    expect((await desk.treadle('settings', 'set', 'lamp-lag-ms', '0ms')).code).toBe(0);
  });

  it('settings names an emptied temperature as it was given', async () => {
    expect((await desk.treadle('settings', 'set', 'tray-c10', 'warm')).err).toContain(
      "'warm' is not a temperature",
    );
  });

  it('of a file of another kind says what it is, and no list of its fields', async () => {
    const baths = desk.file('baths.json');
    expect((await treadle(['baths', 'usual', '-o', baths])).code).toBe(0);
    const sent = await desk.treadleWithArchive('send', baths);
    expect(sent).toMatchObject({ code: 2, out: '' });
    expect(sent.err).toMatch(
      /cannot be used:\nline 1, column 1: this is a file of baths: 'treadle baths set' gives.*\n$/,
    );
    const given = await desk.treadle('baths', 'set', demoRecipe);
    expect(given).toMatchObject({ code: 2, out: '' });
    expect(given.err).toMatch(
      /cannot be used:\nline 1, column 1: this is a recipe: 'treadle send' gives.*\n$/,
    );
    const planned = await treadle(['strip', '--file', demoRecipe]);
    expect(planned.err).toMatch(/this is a recipe: .*\n$/);
  });

  it.each([
    [['set', 'focus-limit-s', '5'], "focus-limit-s: '5' is not possible; 10 to 900 s"],
    [['set', 'focus-limit-s', 'long'], "focus-limit-s: 'long' is not possible; 10 to 900 s"],
    [
      ['set', 'focus-limit', '50'],
      "<name>: there is no setting 'focus-limit'; there are lens-check, focus-limit-s,",
    ],
  ])('settings %j is bad input', async (words, say) => {
    const ran = await desk.treadle('settings', ...words);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain(say);
  });

  it('a night in which a laptop asked, and nobody printed, is not denied', async () => {
    await desk.treadle('collect', '--archive', desk.file('before.sqlite'));
    const after = desk.file('after.sqlite');
    await desk.treadle('collect', '--archive', after);
    expect((await treadle(['nights', '--archive', after])).out).toMatch(/^\d{4}-\d\d-\d\d +.* 0 +0 +1$/m);
    expect(await treadle(['nights', '--night', 'last', '--archive', after])).toMatchObject({
      code: 0,
      out: '',
      err: 'That night a laptop talked to the board, and nothing was done at the enlarger.\n',
    });
  });

  it('diagnose finds a clean line clean, and says what to do about one that is not', async () => {
    expect((await desk.treadle('diagnose', '--questions', '5')).out).toContain('The line is clean.');
    desk.board.linkFaults.set('framing', 3);
    const { out } = await desk.treadle('diagnose', '--questions', '5');
    expect(out).toMatch(/^board +3 +bytes without their stop bit$/m);
    expect(out).toMatch(/disagree about the baud rate/);
    desk.board.linkFaults.clear();
  });

  it('watch tells of the evening, a line an event, until it is interrupted', async () => {
    // They come together, the lamp first; and somebody may have begun to watch between the two.
    const both = /lamp on\n[\s\S]* {2}focus| {2}focus[\s\S]*lamp on$/m;
    const stopHolding = desk.holdThePedalOverAndOver();
    const ran = await treadleUntil(['watch', '--port', desk.path], both);
    stopHolding();
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(ran.out).toMatch(/^0:\d\d:\d\d {2}focus/m);
    expect(ran.out).toMatch(/^0:\d\d:\d\d {2}lamp on$/m);
  });

  it('pull saves the log once, and log tells it', async () => {
    const first = JSON.parse((await desk.treadleWithArchive('collect', '--json')).out);
    expect(first).toMatchObject({ board: desk.board.id, known: 0, holes: [] });
    expect(first.added).toBeGreaterThan(0);
    await desk.treadleWithArchive('collect');
    const { out } = await treadle(['nights', '--json', '--archive', desk.archive]);
    const entries = out
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    const numbers = entries.map(({ boot, seq }) => `${boot} ${seq}`);
    expect(new Set(numbers).size).toBe(numbers.length);
    expect(entries).toContainEqual(expect.objectContaining({ kind: 'focus', outcome: 'complete' }));
  });
});

describe('without a board', () => {
  it('the port that is not there is named, with exit code 3', async () => {
    const ran = await treadle(['info', '--port', '/dev/ttyNowhere']);
    expect(ran).toMatchObject({ code: 3, out: '' });
    expect(ran.err).toContain('there is no serial port /dev/ttyNowhere');
  });
});
