/** What happens, a line of JSON each, for one who reads it as it comes. */
export class NewsLines<News> {
  readonly #waiting: News[] = [];
  #isEnded = false;
  #wake = () => {};

  say(news: News): void {
    this.#waiting.push(news);
    this.#wake();
  }

  end(): void {
    this.#isEnded = true;
    this.#wake();
  }

  async *lines(): AsyncGenerator<string, void, void> {
    for (;;) {
      const next = this.#waiting.shift();
      if (next !== undefined) yield `${JSON.stringify(next)}\n`;
      else if (this.#isEnded) return;
      else
        await new Promise<void>((resolve) => {
          this.#wake = resolve;
        });
    }
  }
}
