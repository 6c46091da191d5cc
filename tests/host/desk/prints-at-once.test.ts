import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
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
