import type { CDPSession, Page } from 'playwright-core';

interface HeapUsage {
  readonly usedSize: number;
  readonly backingStorageSize: number;
}

/** What the first worker of a page holds in memory, as the browser's own protocol for developers tells it. */
export class WorkerHeap {
  readonly #session: CDPSession;
  readonly #waiting = new Map<number, (result: unknown) => void>();
  #worker: string | undefined;
  #asked = 0;

  private constructor(session: CDPSession) {
    this.#session = session;
    session.on('Target.attachedToTarget', ({ sessionId, targetInfo }) => {
      if (targetInfo.type === 'worker') this.#worker ??= sessionId;
    });
    session.on('Target.receivedMessageFromTarget', ({ message }) => {
      const { id, result } = JSON.parse(message) as { id: number; result: unknown };
      this.#waiting.get(id)?.(result);
    });
  }

  /** Before the page is opened. */
  static async of(page: Page): Promise<WorkerHeap> {
    const session = await page.context().newCDPSession(page);
    const heap = new WorkerHeap(session);
    await session.send('Target.setAutoAttach', {
      autoAttach: true,
      waitForDebuggerOnStart: false,
      flatten: false,
    });
    return heap;
  }

  /** Objects and buffers, after what nobody holds any more was let go of. */
  async bytes(): Promise<number> {
    await this.#ask('HeapProfiler.collectGarbage');
    const { usedSize, backingStorageSize } = (await this.#ask('Runtime.getHeapUsage')) as HeapUsage;
    return usedSize + backingStorageSize;
  }

  #ask(method: string): Promise<unknown> {
    if (this.#worker === undefined) throw new Error('the page has no worker');
    const id = ++this.#asked;
    const answered = new Promise<unknown>((resolve) => this.#waiting.set(id, resolve));
    void this.#session.send('Target.sendMessageToTarget', {
      sessionId: this.#worker,
      message: JSON.stringify({ id, method }),
    });
    return answered;
  }
}
