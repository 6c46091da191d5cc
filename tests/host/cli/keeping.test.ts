import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { projectRoot } from '../../../shared-protocol/project.js';
import { BoardAtAPort } from './board-at-a-port.js';

const demo = readFileSync(`${projectRoot}/host/evening/boathouse.json`, 'utf8');

describe('nothing is written over, at a real port:', () => {
  let desk: BoardAtAPort;
  beforeAll(async () => {
    desk = await BoardAtAPort.start();
  });
  afterAll(() => desk.close());
  const file = (name: string, text: string) => {
    writeFileSync(desk.file(name), text);
    return desk.file(name);
  };
  const versionOnBoard = async () =>
    (JSON.parse((await desk.treadle('recipes', '--json')).out) as { version: number }[])[0]?.version;

  it('a file that was edited gets the next number, which is written into it and nothing else', async () => {
    const path = file('boathouse.json', demo);
    expect((await desk.treadleWithArchive('send', path)).err).toContain("'boathouse' version 1 is on board");
    const text = demo.replace('"base": "12.5s"', '"base": "14s"');
    expect(text).not.toBe(demo);
    writeFileSync(path, text);
    const ran = await desk.treadleWithArchive('send', path);
    expect(ran).toMatchObject({ code: 0, out: '' });
    expect(ran.err).toContain('(base 12.500 s -> 14.000 s), so it is now version 2.');
    expect(ran.err).toContain(`${path} now says version 2.`);
    const now = readFileSync(path, 'utf8');
    expect(JSON.parse(now)).toEqual({ ...JSON.parse(text), version: 2 });
    expect(now.split('\n').filter((line) => !line.includes('"version"'))).toEqual(
      text.split('\n').filter((line) => !line.includes('"version"')),
    );
    expect(await versionOnBoard()).toBe(2);
  });

  it('an older file is refused with both versions, what differs, and how to go on', async () => {
    const path = file('older.json', demo);
    const ran = await desk.treadleWithArchive('send', path);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(
      /^treadle: the board has version 2 of 'boathouse', and this is version 1, an older one/,
    );
    expect(ran.err).toContain('base 14.000 s -> 12.500 s');
    expect(ran.err).toContain('treadle save boathouse -o FILE');
    expect(await versionOnBoard()).toBe(2);
    expect((await desk.treadleWithArchive('send', path, '--as-next')).code).toBe(0);
    expect(await versionOnBoard()).toBe(3);
    expect(JSON.parse(readFileSync(path, 'utf8'))).toMatchObject({ version: 3 });
  });

  // A test sheet went to the board past the check of versions, over whatever had its name.
  it('nor does a sheet for dry-down take the place of what was kept under its name', async () => {
    const run = (...words: string[]) => desk.treadle(...words, '--archive', desk.file('sheets.sqlite'));
    const sheet = ['dry-down', '--sheet', '10s', '--filter', '2', '--send'];
    const name = 'dry-down-10s-2';
    const named = JSON.stringify({ ...JSON.parse(demo), name, version: 5 });
    expect((await run('send', file('own.json', named))).code).toBe(0);
    const ran = await run(...sheet);
    expect(ran).toMatchObject({ code: 2 });
    expect(ran.err).toContain(`the board has version 5 of '${name}', and this is version 1, an older one`);
    const next = await run(...sheet, '--as-next');
    expect(next).toMatchObject({ code: 0 });
    expect(next.err).toContain(`'${name}' version 6 is on board`);
    expect((await desk.treadle('remove', name)).code).toBe(0);
  });

  it('shapes, notes and history, which no board holds, come back when a recipe is saved', async () => {
    const ran = await desk.treadleWithArchive('save', 'boathouse');
    const { version: _, ...whole } = JSON.parse(demo);
    expect(JSON.parse(ran.out)).toMatchObject({ ...whole, version: 3 });
    expect(ran.err).toContain('Notes, whole texts and shapes are those kept with version 3.');
  });

  it('where nothing kept has them it is said, and a file can supply them', async () => {
    const elsewhere = ['--archive', desk.file('empty.sqlite')];
    const bare = await desk.treadle('save', 'boathouse', ...elsewhere);
    expect(bare.err).toContain('The board holds no notes');
    expect(bare.err).toMatch(/Nothing tells where these lie on the paper: .*burn/);
    expect(bare.out).not.toContain('"shape"');
    const like = await desk.treadle(
      ...['save', 'boathouse', '--like', file('like.json', demo)],
      ...['--archive', desk.file('empty-too.sqlite')],
    );
    expect(like.out).toContain('"shape"');
  });

  it('what was saved is in the archive', async () => {
    const out = desk.file('saved.json');
    expect((await desk.treadleWithArchive('save', 'boathouse', '-o', out)).code).toBe(0);
    const listed = JSON.parse((await desk.treadle('recipes', '--archive', desk.archive, '--json')).out);
    expect(listed.map(({ recipe }: { recipe: { version: number } }) => recipe.version)).toEqual([1, 2, 3]);
  });
});
