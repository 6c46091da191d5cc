import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readRecipe } from '../../../host/recipe/index.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { printIntoArchive } from '../records/again/print-into-archive.js';
import { BoardAtAPort } from './board-at-a-port.js';
import { Desk, lines } from './questions/typing.js';
import { treadle } from './treadle.js';

const demo = readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json')));
const folder = mkdtempSync(join(tmpdir(), 'treadle-again-'));
const archive = join(folder, 'archive.sqlite');

/** Two prints by the recipe, the second with the base turned up; the power goes in a third; one more, and one after the board was switched off and on. */
beforeAll(() =>
  printIntoArchive(archive, demo, async (printer) => {
    await printer.print('boathouse');
    await printer.print('boathouse', { pushes: 1, clicks: 3 });
    await printer.print('boathouse', { powerFailsAfterS: 6 });
    await printer.print('boathouse');
    printer.switchOffAndOn();
    await printer.print('boathouse');
  }),
);
afterAll(() => rmSync(folder, { recursive: true }));

describe('treadle again', () => {
  const again = (...words: string[]) => treadle(['again', ...words, '--archive', archive]);
  const made = async (...words: string[]) => {
    const ran = await again(...words, '--json');
    expect(ran.err).toBe('');
    return JSON.parse(ran.out) as { differences: string[]; recipe: Record<string, unknown> };
  };

  it('makes the recipe of a sheet of a night, and says in what it differs', async () => {
    const { differences, recipe } = await made('2027-03-05/2');
    expect(differences).toHaveLength(1);
    expect(differences[0]).toMatch(/^base 12\.500 s -> 1\d\.\d{3} s$/);
    expect(recipe).toMatchObject({ name: 'boathouse', version: 2, negative: demo.negative, aperture: 'f/8' });
    expect(JSON.stringify(recipe.history)).toContain('as sheet 2 of 2027-03-05 was given: base 12.500 s');
    expect(JSON.stringify(recipe.passes)).toContain('shape');
  });

  it('the last print is by the recipe itself, in words for people, and nothing is written unasked', async () => {
    const ran = await again('last');
    expect(ran).toMatchObject({ code: 0 });
    expect(ran.out).toMatch(/: base 12\.500 s, f\/8$/m);
    expect(ran.out).toMatch(/^burn sky +00 +\+3\/4$/m);
    expect(ran.out).toContain('It was given as planned.');
    expect(ran.err).toContain('Nothing was written. Add --output FILE');
  });

  it('of two sheets of one number asks which, and says what each is', async () => {
    const ran = await again('1');
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(/2 sheets are number 1: 1\.1 is boathouse, version 1, at 20:\d\d UTC; 1\.2 is/);
    expect((await made('1.2')).differences).toEqual([]);
  });

  it('says of light that a power cut ended that no log has it', async () => {
    expect((await again('3')).err).toMatch(
      /the power failed while pass 1, base, was given: anything between nothing and the 12\.500 s planned.*'--cut all'/s,
    );
    expect((await made('3', '--cut', 'all')).differences).toEqual([
      'burn sky +3/4 taken away',
      'burn far hills +1/3 taken away',
    ]);
  });

  it('takes what somebody remembers of it, but no more than can be', async () => {
    expect((await made('3', '--cut', '5s')).recipe).toMatchObject({ base: '5s' });
    expect((await again('3', '--cut', '13s')).err).toMatch(
      /13\.000 s cannot have fallen: no more than 12\.500 s/,
    );
    expect((await again('3', '--cut', 'none')).err).toMatch(/sheet 3 got no light/);
    expect((await again('3', '--cut', 'some')).err).toMatch(/--cut: 'some' is not a time/);
  });

  it('asks somebody at a terminal how much of it fell', async () => {
    const desk = new Desk();
    try {
      const words = ['again', '3', '--archive', archive];
      const { screen, exitCode } = await desk.type(words, lines('help', 'dunno', '5'));
      expect(exitCode, screen).toBe(0);
      expect(screen).toContain(
        'How much of the 12.500 s of pass 1, base, fell before the power failed: help\n',
      );
      expect(screen).toContain("'dunno' is not a time");
      expect(screen).toMatch(/base 5\.000 s/);
    } finally {
      desk.clear();
    }
  });

  it('is told the lens, the size and the paper', async () => {
    const { recipe } = await made(
      'last',
      '--aperture',
      'f/11',
      '--magnification',
      '6',
      '--paper',
      'warm, matt',
    );
    expect(recipe).toMatchObject({ aperture: 'f/11', magnification: 6, paper: 'warm, matt', base: '12.5s' });
  });

  it('changes them for another size and stop', async () => {
    const { recipe } = await made('last', '--aperture', 'f/8:f/11', '--magnification', '5:5');
    // One stop: twice the time.
    expect(recipe).toMatchObject({ aperture: 'f/11', base: '25s' });
  });

  it.each([
    ['9', /there is no sheet 9 in the night of 2027-03-05, but 1, 2, 3, 4/],
    ['2027-03-06/1', /no sheet 1 in the night of 2027-03-06, nor any other: 'treadle nights' lists/],
    ['Thursday', /'Thursday' names no sheet: write 2027-03-05\/7/],
  ])('says of %j what there is instead', async (name, words) => {
    const ran = await again(name);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(words);
  });

  it('writes it, and sends it as the version after the newest', async () => {
    const desk = await BoardAtAPort.start();
    try {
      const output = join(folder, 'again.json');
      const words = ['again', '2', '--archive', archive, '--send', '--output', output];
      expect((await desk.treadle(...words)).err).toContain("'boathouse' version 2 is on board");
      expect(JSON.parse(readFileSync(output, 'utf8'))).toMatchObject({ name: 'boathouse', version: 2 });
      expect((await desk.treadle(...words, '--force')).err).toContain('version 2 is on board');
      const listed = JSON.parse((await desk.treadle('recipes', '--json')).out);
      expect(listed).toMatchObject([{ name: 'boathouse', version: 2 }]);
    } finally {
      desk.close();
    }
  });
});

describe('treadle compare', () => {
  const compare = (...words: string[]) => treadle(['compare', ...words, '--archive', archive]);

  it('draws no PNG under a name of another kind', async () => {
    const path = join(folder, 'both.jpg');
    expect(await compare('1.1', '2', '--output', path)).toMatchObject({
      code: 2,
      err: expect.stringMatching(/--output: '.*both\.jpg' does not end in \.png; it becomes a PNG picture/),
    });
    expect(existsSync(path)).toBe(false);
  });

  it('says in stops what changed from one sheet to another', async () => {
    const ran = await compare('1.1', '2');
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(ran.out).toMatch(/^base +12\.500 s +1\d\.\d{3} s +\+0\.\d\d stop$/m);
    expect(ran.out).toMatch(/^burn sky +\+0\.75 +\+0\.75 +same$/m);
  });

  it('says where both are one sheet', async () => {
    const { out } = await compare('last', 'last');
    expect(out).toMatch(/^ +last +last \(the same\) +change$/m);
  });

  it('writes a picture of both, the first on the left and the darker one darker', async () => {
    const output = join(folder, 'both.png');
    const ran = await compare('1.1', '2', '--output', output);
    expect(ran).toMatchObject({ code: 0 });
    expect(ran.err).toContain('the first print on the left');
    const { width, height } = await sharp(output).metadata();
    expect(width! / height!).toBeGreaterThan(2);
    const mean = async (left: number) => {
      const part = { left, top: 100, width: Math.floor(width! / 3), height: height! - 200 };
      return (await sharp(await sharp(output).extract(part).png().toBuffer()).stats()).channels[0]!.mean;
    };
    const [first, second] = [await mean(100), await mean(Math.ceil(width! / 2) + 100)];
    expect(first - second).toBeGreaterThan(1);
  });

  it('never writes over a picture unasked', async () => {
    const ran = await compare('1.1', '2', '--output', join(folder, 'both.png'));
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('is there already');
  });
});

describe('a print that is still under way when its log is collected', () => {
  const underWay = join(folder, 'under-way.sqlite');
  beforeAll(() =>
    printIntoArchive(underWay, demo, async (printer) => {
      await printer.print('boathouse');
      await printer.print('boathouse', { leavesAfterS: 12 });
    }),
  );
  const ran = (...words: string[]) => treadle([...words, '--archive', underWay]);

  it('is not said to be all that the sheet got, by again and by compare', async () => {
    const again = await ran('again', 'last');
    expect(again).toMatchObject({ code: 0 });
    expect(again.out).toMatch(/^Not known: whether sheet 2 got more: the log has no end of it/m);
    expect(again.out).toMatch(/^As it was given, against the recipe: .*burn far hills \+1\/3 taken away/m);
    expect((await ran('compare', '1', '2')).err).toContain('2: whether sheet 2 got more');
    expect((await ran('again', '1')).out).not.toContain('Not known');
  });

  it('is counted neither as a print nor as wasted', async () => {
    const { out } = await ran('nights', '--night', 'last');
    expect(out).toMatch(/^1 print, 0 strips, 1 sheet still under way, lamp on/m);
  });
});
