/** Works that come at once are done one after another, each on what the one before left. */
export class InTurn {
  #last: Promise<unknown> = Promise.resolve();

  do<Result>(work: () => Promise<Result>): Promise<Result> {
    const done = this.#last.then(work);
    this.#last = done.catch(() => {});
    return done;
  }
}
