import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { watchPort } from '../../../../host/board/link/port-watch.js';
import { Talk } from './talk.js';

const SOON_MS = 1000;

it.skipIf(process.platform === 'win32')(
  'a port is gone once, soon after its name is, and not before; nor to whoever looks no more',
  async () => {
    const folder = mkdtempSync(join(tmpdir(), 'treadle-unplugged-'));
    const path = join(folder, 'ttyACM0');
    writeFileSync(path, '');
    const talk = new Talk();
    const gone: string[] = [];
    watchPort(path, talk.clock, () => gone.push('there'));
    const stop = watchPort(path, talk.clock, () => gone.push('stopped'));
    await talk.pass(10_000);
    expect(gone).toEqual([]);
    stop();
    rmSync(folder, { recursive: true });
    await talk.pass(SOON_MS);
    expect(gone).toEqual(['there']);
    await talk.pass(10_000);
    expect(gone).toEqual(['there']);
    expect(talk.timeline.nextUs).toBeUndefined();
  },
);

// Its ports are no names in a folder: every one would have been gone at once.
it('a port of Windows is left to its driver', async () => {
  const own = Object.getOwnPropertyDescriptor(process, 'platform')!;
  Object.defineProperty(process, 'platform', { ...own, value: 'win32' });
  const talk = new Talk();
  let gone = 0;
  try {
    watchPort('COM3', talk.clock, () => gone++)();
    watchPort('COM3', talk.clock, () => gone++);
    await talk.pass(10_000);
  } finally {
    Object.defineProperty(process, 'platform', own);
  }
  expect(gone).toBe(0);
});
