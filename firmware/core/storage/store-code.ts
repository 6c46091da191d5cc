/** What becomes of a request to the log or to the shelf; refusals are below zero. */
export enum StoreCode {
  /** Done, nothing to wait for. */
  Done = 0,
  /** Queued; `takeFinished` will hand back the request's ticket with the code that came of it. */
  Waiting = 1,
  /** No room; nothing was or will be overwritten. */
  Full = -1,
  /** Too many requests are waiting, or one that excludes this one. Ask again later. */
  Busy = -2,
  NotFound = -3,
  /** A length, a name or a state that the caller should have known to be wrong. */
  BadRequest = -4,
  /** The flash did not take it, in several places. */
  Failed = -5,
}

/** What a writer did when it was asked for its next flash operation. */
export enum Issued {
  Nothing,
  Started,
  /** No flash operation: there is no place left for a request, and it was given up. */
  GaveUp,
}
