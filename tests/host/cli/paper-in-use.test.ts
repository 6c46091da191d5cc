import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { keptStrip, papers } from '../daylight/read-papers.js';
import { treadleHere } from './in-this-process.js';

const folder = mkdtempSync(join(tmpdir(), 'treadle-paper-in-use-'));
const inFolder = (name: string) => join(folder, name);
const negative = inFolder('negative.png');
const archive = inFolder('archive.db');
const boathouse = JSON.parse(readFileSync(join(projectRoot, 'host/evening/boathouse.json'), 'utf8'));
const recipe = inFolder('on-pearl.json');

beforeAll(async () => {
  const grey = { width: 48, height: 24, channels: 3 as const, background: '#777' };
  await sharp({ create: grey }).extend({ bottom: 8, background: '#444' }).png().toFile(negative);
  const [base, ...rest] = boathouse.passes;
  const passes = [{ ...base, filter: '2' }, ...rest];
  writeFileSync(recipe, JSON.stringify({ ...boathouse, paper: 'pearl', passes }));
  await using kept = await openArchive(archive);
  for (const [paper, filter] of [
    ['Pearl', '2'],
    ['Pearl', '4'],
    ['Matt', '2'],
  ] as const)
    await kept.addPaperReading({ paper, developer: 'print 1:9', body: keptStrip(papers[paper], filter, 2) });
});
afterAll(() => rmSync(folder, { recursive: true }));

const here = (...words: string[]) => treadleHere([...words, '--archive', archive]);

describe('a paper that was measured', () => {
  it('is what a filter is changed by, when the recipe names it', async () => {
    const { code, out } = await here('filter', recipe, '--to', '4');
    expect(code).toBe(0);
    expect(out).toMatch(/time x 1\.\d+ \(2 strips of Pearl in print 1:9, which say x/);
    const other = await treadleHere(['filter', recipe, '--to', '4', '--archive', inFolder('none.db')]);
    expect(other.out).toContain("time x 2 (table 'common filters')");
  });

  it('is used by name for any recipe, and told in the pictures that are made on it', async () => {
    const picture = inFolder('print.png');
    const { code, err } = await here(
      'preview',
      recipe,
      '--paper',
      'Matt',
      '--same-light',
      '--scan',
      negative,
      '-o',
      picture,
    );
    expect({ code, there: existsSync(picture) }).toEqual({ code: 0, there: true });
    expect(err).toContain('On Matt in print 1:9, version 1 of its profile');
    expect(err).toMatch(/filter 2: R\d+, measured by 1 strip/);
    expect(err).toContain('filter 00: R170, common practice, not measured.');
  });

  it('leads to the base on another paper', async () => {
    const { code, out } = await here('rescale', recipe, '--to-paper', 'matt', '--json');
    expect(code).toBe(0);
    const { account, recipe: changed } = JSON.parse(out);
    expect(account.factor).toBeCloseTo(0.5, 1);
    expect(account.paperFactor.low).toBeLessThan(account.factor);
    expect(changed.paper).toBe('Matt');
  });

  it('is asked for by its option where the one that the recipe names was not measured', async () => {
    const other = inFolder('other.json');
    writeFileSync(
      other,
      JSON.stringify({ title: 'Mill', base: '12s', paper: 'Velvet', passes: [{ kind: 'base' }] }),
    );
    const { code, err } = await here('rescale', other, '--to-paper', 'matt');
    expect(code).toBe(2);
    expect(err).toContain("nothing was read of 'Velvet'; there is Pearl in print 1:9; Matt in print 1:9");
    expect(err).toMatch(
      /the recipe names 'Velvet': say another by --from-paper, or give both speeds by --paper-speed/,
    );
  });

  it('is asked for in words of the recipe, where the same light on another paper is to be shown', async () => {
    const other = inFolder('mill.json');
    writeFileSync(
      other,
      JSON.stringify({ title: 'Mill', base: '12s', paper: 'Velvet', passes: [{ kind: 'base' }] }),
    );
    const picture = inFolder('mill.png');
    const { code, err } = await here('preview', other, '--paper', 'Matt', '--same-light', '-o', picture);
    expect({ code, there: existsSync(picture) }).toEqual({ code: 2, there: false });
    expect(err).toMatch(
      /nothing was read of 'Velvet'; there is .*; the recipe names 'Velvet', and --same-light/,
    );
  });

  it('saves telling its range', async () => {
    const words = ['contrast', '--paper', 'Pearl', '--filter', '2', '--highlight', '8s', '--shadow', '12s'];
    const { code, out } = await here(...words);
    expect(code).toBe(0);
    expect(out).toMatch(
      /^The strip's filter 2 has R1\d\d: measured by 1 strip, R\d+ to R\d+ in 95 of 100 cases\.\n/,
    );
  });

  it('is told from one that nobody read', async () => {
    const { code, err } = await here('preview', recipe, '--paper', 'Velvet', '-o', inFolder('velvet.png'));
    expect(code).toBe(2);
    expect(err).toContain("nothing was read of 'Velvet'; there is Pearl in print 1:9; Matt in print 1:9");
  });
});
