import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { printsRoom } from '../../../host/desk/index.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { projectRoot } from '../../../shared-protocol/project.js';

const boathouse = JSON.parse(readFileSync(join(projectRoot, 'host/evening/boathouse.json'), 'utf8'));

// Two pages of one desk: prints that were kept at the same moment all got the number 1.
it('prints that are kept at once are versions of their own, and one that cannot be kept stops no other', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-at-once-'));
  const archive = join(folder, 'archive.sqlite');
  const { POST } = printsRoom({ archive, folder })['/api/prints/version']!;
  const ask = (recipe: unknown) => {
    const body = Buffer.from(JSON.stringify(recipe));
    return Promise.resolve(POST!.answer({ body, query: new URLSearchParams(), gone: AbortSignal.abort() }));
  };
  const prints = [10, 11, 12, 13].map((seconds) => ({ ...boathouse, base: `${seconds}s` }));
  const asked = [prints[0], {}, ...prints.slice(1)].map(ask);
  const kept = await Promise.allSettled(asked);
  expect(kept.map(({ status }) => status === 'fulfilled')).toEqual([true, false, true, true, true]);
  await using there = await readArchive(archive);
  const versions = (await there.recipes('boathouse')).map(({ recipe }) => recipe.version);
  expect(versions.sort()).toEqual([1, 2, 3, 4]);
  rmSync(folder, { recursive: true });
});

// Both had seen the file as it was, and so the second wrote over what the first had just written.
it('of two pages that write one file at once, one is told that it was changed', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-at-once-'));
  const { POST } = printsRoom({ archive: join(folder, 'archive.sqlite'), folder })['/api/prints/file']!;
  writeFileSync(join(folder, 'mine.json'), 'as it was');
  const write = async (text: string) => {
    const body = Buffer.from(JSON.stringify({ name: 'mine.json', text, was: 'as it was' }));
    return await POST!.answer({ body, query: new URLSearchParams(), gone: AbortSignal.abort() });
  };
  const written = await Promise.allSettled([write('first'), write('second')]);
  expect(written[0]).toMatchObject({ status: 'fulfilled' });
  expect(String((written[1] as PromiseRejectedResult).reason)).toContain('changed meanwhile');
  expect(readFileSync(join(folder, 'mine.json'), 'utf8')).toBe('first');
  rmSync(folder, { recursive: true });
});
