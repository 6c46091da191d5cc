import { afterEach, describe, expect, it } from 'vitest';
import { WorkThread } from '../../../host/desk/index.js';

const threads: WorkThread[] = [];
function begin(script?: string): WorkThread {
  const thread = new WorkThread(script === undefined ? undefined : new URL(`data:text/javascript,${script}`));
  threads.push(thread);
  return thread;
}
afterEach(async () => {
  for (const thread of threads.splice(0)) await thread.close();
});

const nothingRead = { paper: 'Pearl', developer: '', rows: [] };

describe('the thread beside the server', () => {
  it('does what it is asked for, and goes on after what could not be done', async () => {
    const thread = begin();
    expect(await thread.do('tellPaper', nothingRead)).toBeUndefined();
    const asked = { ...nothingRead, rows: null as never };
    await expect(thread.do('tellPaper', asked)).rejects.toThrow('rows is not iterable');
    expect(await thread.do('tellPaper', nothingRead)).toBeUndefined();
  });

  // As when there was no memory left for it.
  it('is begun anew after it ended of itself, and who waited for it is told', async () => {
    const thread = begin(
      `import { parentPort } from 'node:worker_threads'; parentPort.on('message', () => process.exit())`,
    );
    for (let time = 0; time < 2; time++)
      await expect(thread.do('tellPaper', nothingRead)).rejects.toThrow(
        "the thread that was to do 'tellPaper' has ended",
      );
    const broken = begin(
      `import { parentPort } from 'node:worker_threads'; parentPort.on('message', () => { setImmediate(() => { throw new RangeError('no room') }) })`,
    );
    for (let time = 0; time < 2; time++)
      await expect(broken.do('tellPaper', nothingRead)).rejects.toThrow('no room');
  });

  it('does one thing at a time', async () => {
    // Says how many it was sent before it answered the one before.
    const thread = begin(
      `import { parentPort } from 'node:worker_threads'; let open = 0; parentPort.on('message', () => { open++; setImmediate(() => { parentPort.postMessage({ result: open }); open--; }) })`,
    );
    const counts = await Promise.all([1, 2, 3].map(() => thread.do('tellPaper', nothingRead)));
    expect(counts).toEqual([1, 1, 1]);
  });

  it('ends when it is closed, in the middle of its work, and does not begin what waited', async () => {
    const thread = begin(
      `import { parentPort } from 'node:worker_threads'; parentPort.on('message', () => {})`,
    );
    const works = [1, 2].map(() => thread.do('tellPaper', nothingRead));
    const outcomes = Promise.allSettled(works);
    // It has begun: what was handed over is sent before anything else can be done here.
    await Promise.resolve();
    await thread.close();
    expect((await outcomes).map((one) => (one as PromiseRejectedResult).reason.message)).toEqual([
      "the thread that was to do 'tellPaper' has ended",
      'the desk was closed',
    ]);
  });
});
