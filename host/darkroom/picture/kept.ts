/** What was made for one frame and is wanted again for the next; whatever a frame does without is let go. */
export class Kept<Made> {
  #before = new Map<string, Made>();
  #now = new Map<string, Made>();

  /** The one that was made under this key for this frame or the last, or a new one. */
  get(key: string, make: () => Made): Made {
    const found = this.#now.get(key) ?? this.#before.get(key) ?? make();
    this.#now.set(key, found);
    return found;
  }

  beginFrame(): void {
    this.#before = this.#now;
    this.#now = new Map();
  }
}
