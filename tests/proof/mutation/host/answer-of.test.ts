import { execFileSync, fork } from 'node:child_process';
import { EventEmitter, once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { answerOf, PATIENCE } from './answer-of.js';

const check = { file: 'pipe.test.ts', at: 0, name: 'a pipe in place of a note' };

describe.skipIf(process.platform === 'win32')('a process that tries changes', () => {
  let folder = '';
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'treadle-held-'));
  });
  afterEach(() => rmSync(folder, { recursive: true }));

  const childOf = (source: string) => {
    const program = join(folder, 'child.mjs');
    writeFileSync(program, source);
    return fork(program);
  };

  // A change of the port's note read such a pipe: the run never came behind it.
  it('is given up where it reads a pipe to which nobody writes, and can be ended', async () => {
    const pipe = join(folder, 'pipe');
    execFileSync('mkfifo', [pipe]);
    const child = childOf(`
      import { readFileSync } from 'node:fs';
      process.send({ at: ${JSON.stringify(check)} });
      process.once('message', () => readFileSync(${JSON.stringify(pipe)}));
    `);
    const [told] = await once(child, 'message');
    expect(told).toEqual({ at: check });
    child.send('read it');
    expect(await answerOf(child, { ...PATIENCE, silentMs: 500 })).toMatchObject({
      held: 'it never let go of its process',
    });
    const ended = once(child, 'exit');
    child.kill('SIGKILL');
    expect(await ended).toEqual([null, 'SIGKILL']);
  });

  it('that ends itself is told at once, with the check that it was at', async () => {
    const child = childOf(`process.send({ at: ${JSON.stringify(check)} }, () => process.exit());`);
    expect(await answerOf(child)).toEqual({ held: 'it ended its process', at: check });
  });
});

describe('how long an answer is waited for', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());
  const patience = { silentMs: 100, oneCheckMs: 250 };

  it('is as long as there is a word, and a new check now and then', async () => {
    const child = new EventEmitter();
    const answer = answerOf(child, patience);
    for (let at = 0; at < 20; at++) {
      vi.advanceTimersByTime(99);
      child.emit('message', at % 2 === 0 ? { at: { ...check, at } } : { goesOn: true });
    }
    child.emit('message', { answer: 'all is well' });
    expect(await answer).toBe('all is well');
  });

  it('ends where one check goes on and on, which is named', async () => {
    const child = new EventEmitter();
    const answer = answerOf(child, patience);
    child.emit('message', { at: check });
    for (let word = 0; word < 3; word++) {
      vi.advanceTimersByTime(90);
      child.emit('message', { goesOn: true });
    }
    expect(await answer).toEqual({ held: 'it never came to an end', at: check });
  });

  it('ends where there is no word, whatever was answered before', async () => {
    const child = new EventEmitter();
    const first = answerOf(child, patience);
    child.emit('message', { answer: false });
    expect(await first).toBe(false);
    const second = answerOf(child, patience);
    child.emit('message', { at: check });
    vi.advanceTimersByTime(100);
    expect(await second).toEqual({ held: 'it never let go of its process', at: check });
    expect(child.eventNames()).toEqual([]);
  });
});
