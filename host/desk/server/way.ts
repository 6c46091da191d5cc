/** What a request asks with: the whole of its body, and what its address says after the '?'. */
export interface Asked {
  readonly body: Uint8Array;
  /** Where the body is instead, for a way that wants it on the disk; it is gone after the answer. */
  readonly file?: string;
  readonly query: URLSearchParams;
  /** Ends when the one who asked is gone: for answers that go on. */
  readonly gone: AbortSignal;
}

/** What is sent for a request that was let through: at once, or in pieces as they come. */
export type Answer =
  | { readonly type: string; readonly bytes: Uint8Array | string }
  | { readonly type: string; readonly pieces: AsyncIterable<Uint8Array | string> };

/** One thing that can be asked of the server. */
export interface Way {
  /** The longest body that is taken; `MOST_BODY_BYTES` where it is not said. */
  readonly mostBodyBytes?: number;
  /** For bodies that are not to be whole in memory. */
  readonly bodyIn?: 'file';
  /** @throws TreadleError whose message is for the person at the page, who gets it as it is. */
  answer(asked: Asked): Answer | Promise<Answer>;
}

/** By path (under `/api/`), then by method. */
export type Ways = Readonly<Record<string, Readonly<Record<string, Way>>>>;

export function json(value: unknown): Answer {
  return { type: 'application/json', bytes: JSON.stringify(value) };
}
