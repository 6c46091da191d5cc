import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readRecipe } from '../../../../host/recipe/index.js';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { treadle } from '../treadle.js';
import { CTRL_C, Desk, lines } from './typing.js';

const demoPath = join(projectRoot, 'host/evening/boathouse.json');
const demoText = readFileSync(demoPath, 'utf8');

let desk: Desk;
beforeEach(() => {
  desk = new Desk();
  copyFileSync(demoPath, desk.file('boathouse.json'));
});
afterEach(() => desk.clear());

const changed = () => readRecipe(desk.read('boathouse.json'));
const run = (...words: string[]) => treadle(['change', 'boathouse.json', ...words], '', {}, desk.folder);

/** Return for every question that the demo recipe is asked; the places of those that the tests answer. */
const ASKED = 23;
const BASE_AT = 6;
const SKY_STOPS_AT = 15;
const all = (answers: Readonly<Record<number, string>> = {}) =>
  Array.from({ length: ASKED }, (_, at) => answers[at] ?? '');

describe('treadle change, at a real pseudo-terminal', () => {
  it('has every answer of the recipe ready, and changes nothing by Return alone', async () => {
    const { screen, exitCode } = await desk.type(['change', 'boathouse.json'], lines(...all()));
    expect(exitCode, screen).toBe(0);
    for (const ready of ['Boathouse, late sun', 'f/8', '12.5s', '2 1/2', 'face', 'sky', '3/4', 'far hills'])
      expect(screen).toContain(`[${ready}]: \n`);
    expect(screen).toContain('Nothing was changed, and nothing written.');
    expect(desk.read('boathouse.json')).toBe(demoText);
  });

  it('writes the next version in its place, with what was changed, and leaves the rest as it was', async () => {
    const answers = [...all({ [BASE_AT]: '14', [SKY_STOPS_AT]: 'half' }), 'yes'];
    const { screen, exitCode } = await desk.type(['change', 'boathouse.json'], lines(...answers));
    expect(exitCode, screen).toBe(0);
    expect(screen).toContain(
      'base 12.500 s -> 14.000 s\nburn sky +3/4 -> +1/2\n\nWrite it to boathouse.json? [yes]: yes',
    );
    const before = readRecipe(demoText);
    const [base, sky, hills] = before.passes;
    expect(changed()).toEqual({
      ...{ ...before, version: before.version + 1, baseMs: 14_000 },
      passes: [base, { ...sky, stops120: 60 }, hills],
      history: [
        expect.stringMatching(/ burn sky \+3\/4 -> \+1\/2$/),
        expect.stringMatching(/ base 12\.5s to 14s$/),
      ],
    });
  });

  it('takes an area out by "none" and asks for others, and a name that is a word of ours goes in quotes', async () => {
    const keys = lines(
      ...all().slice(0, SKY_STOPS_AT - 1),
      'none',
      '',
      '',
      '',
      '"back"',
      '',
      '',
      '',
      '',
      '',
      'yes',
    );
    const { screen, exitCode } = await desk.type(['change', 'boathouse.json'], keys);
    expect(exitCode, screen).toBe(0);
    expect(changed().passes.map(({ label }) => label)).toEqual(['base', 'far hills', 'back']);
  });

  it('leaves the file as it was after Ctrl-C', async () => {
    const { signal } = await desk.type(['change', 'boathouse.json'], [...lines('Other', ''), CTRL_C]);
    expect(signal).toBe(2);
    expect(desk.read('boathouse.json')).toBe(demoText);
    expect(desk.files()).toEqual(['boathouse.json']);
  });

  it('does not write over what an editor wrote meanwhile', async () => {
    const edited = demoText.replace('12.5s', '13s');
    const keys = lines(...all({ [BASE_AT]: '14' }), 'yes');
    const whenAsked = (at: number) => {
      if (at === keys.length - 1) writeFileSync(desk.file('boathouse.json'), edited);
    };
    const { screen, exitCode } = await desk.type(['change', 'boathouse.json'], keys, whenAsked);
    expect(exitCode, screen).toBe(2);
    expect(screen).toContain('boathouse.json was changed meanwhile by something else; nothing was written');
    expect(desk.read('boathouse.json')).toBe(edited);
  });
});

describe('treadle change --answers', () => {
  it('takes a script’s answers from a file, and shows what came of them', async () => {
    writeFileSync(desk.file('answers.txt'), `${[...all({ [BASE_AT]: '14' }), 'yes'].join('\n')}\n`);
    const ran = await run('--answers', 'answers.txt');
    expect(ran).toMatchObject({ code: 0, err: "'boathouse' version 2 is in boathouse.json.\n" });
    expect(ran.out).toContain('\nbase 12.500 s -> 14.000 s\n');
    expect(changed().baseMs).toBe(14_000);
  });

  it('says what is wrong with the file, and goes with no --set', async () => {
    expect((await run('--answers', 'nowhere.txt')).err).toContain('--answers: cannot read nowhere.txt');
    const both = await run('--answers', 'answers.txt', '--set', 'sky=+1/2');
    expect(both).toMatchObject({ code: 2, out: '' });
    expect(both.err).toContain('cannot be used with option');
  });
});

describe('treadle change --set', () => {
  it('changes what is named without a question, and says what and to what', async () => {
    const ran = await run(
      '--set',
      'sky=+1/2',
      '--set',
      'far hills.filter=1',
      '--set',
      'face=third',
      '--set',
      'aperture=5.6',
    );
    expect(ran).toMatchObject({ code: 0, err: "'boathouse' version 2 is in boathouse.json.\n" });
    expect(ran.out).toContain(
      'aperture f/8 -> f/5.6\ndodge face -1/2 -> -1/3\nburn sky +3/4 -> +1/2\nfilter of burn far hills 00 -> 1\n',
    );
    const { aperture10, passes } = changed();
    expect(aperture10).toBe(56);
    expect(passes[0]!.dodges[0]!.stops120).toBe(-40);
    expect(passes[1]!.stops120).toBe(60);
    expect(passes[2]!.filter).toBe('1');
  });

  it('changes only these places of the file, which stays as it was laid out', async () => {
    await run('--set', 'sky=+1/2', '--set', 'base=14');
    const left = desk.read('boathouse.json').split('\n');
    const gone = demoText.split('\n').filter((line) => !left.includes(line));
    expect(gone.map((line) => line.trim())).toEqual([
      '"base": "12.5s",',
      '"stops": "+3/4",',
      expect.stringMatching(/^"notes": .*"$/), // it gets a comma, since version and history follow
    ]);
    expect(left).toContain('      "stops": "+1/2",');
  });

  it('takes out a burn or a dodge that becomes none', async () => {
    expect((await run('--set', 'sky=none', '--set', 'face=none')).code).toBe(0);
    expect(changed().passes.map(({ label }) => label)).toEqual(['base', 'far hills']);
    expect(changed().passes[0]!.dodges.map(({ label }) => label)).toEqual(['slipway']);
  });

  it('writes another file where one is named, and none over one that is there', async () => {
    const words = ['--set', 'title=Boathouse, softer', '--output', 'softer.json'];
    expect(await run(...words)).toMatchObject({ code: 0 });
    expect(desk.read('boathouse.json')).toBe(demoText);
    expect(readRecipe(desk.read('softer.json')).title).toBe('Boathouse, softer');
    expect(await run(...words)).toMatchObject({ code: 2, out: '' });
  });

  it('tells scripts the same as JSON', async () => {
    const { out } = await run('--set', 'sky=+1/2', '--json');
    expect(JSON.parse(out)).toMatchObject({
      recipe: { version: 2, base: '12.5s' },
      plan: { baseMs: 12_500 },
      changes: ['burn sky +3/4 -> +1/2'],
    });
  });

  it('writes nothing where the value is what it was', async () => {
    const { code, out, err } = await run('--set', 'sky=3/4', '--json');
    expect({ code, err }).toEqual({ code: 0, err: 'Nothing was changed, and nothing written.\n' });
    expect(JSON.parse(out)).toMatchObject({ recipe: { version: 1 }, changes: [] });
    expect(desk.read('boathouse.json')).toBe(demoText);
  });

  it.each([
    ['sky', /'sky' is not name=value, such as sky=\+1\/2/],
    ['roof=+1/2', /nothing called 'roof'; there are title, .*face, slipway, sky, sky\.filter, far hills/],
    ['sky=1/7', /--set sky: '1\/7' is not a whole number of 1\/120 stop.*\+17\/120 and \+3\/20/],
    ['sky=-1/2', /--set sky: '-1\/2' adds no light; a burn is above zero/],
    ['face=+1/3', /--set face: '\+1\/3' holds nothing back; a dodge is below zero/],
    ['base=2h', /--set base: '2h' is out of range/],
    ['face=9', /'base': the dodges need .* but their pass has only 12\.500 s; split the pass/],
  ])('refuses %s in words, and writes nothing', async (setting, words) => {
    const ran = await run('--set', setting);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(words);
    expect(desk.read('boathouse.json')).toBe(demoText);
  });

  it('asks which is meant where two areas have one name', async () => {
    const twice = demoText.replace('"far hills"', '"sky"');
    writeFileSync(desk.file('boathouse.json'), twice);
    const ran = await run('--set', 'sky=+1/2');
    expect(ran.err).toContain("'sky' could be 2.stops or 3.stops; say which");
    expect(await run('--set', '3=+1/2')).toMatchObject({ code: 0 });
    expect(changed().passes.map(({ stops120 }) => stops120)).toEqual([0, 90, 60]);
  });

  it('needs a name for what came from standard input', async () => {
    const words = ['change', '-', '--set', 'sky=+1/2'];
    expect((await treadle(words, demoText)).err).toContain('name a file with --output');
    const ran = await treadle([...words, '--output', 'other.json'], demoText, {}, desk.folder);
    expect(ran).toMatchObject({ code: 0 });
    expect(readRecipe(desk.read('other.json')).passes[1]!.stops120).toBe(60);
  });
});
