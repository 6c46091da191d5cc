import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Verdict } from './trials.js';
import { mutationFolder } from './whole-core.js';

export interface Result {
  readonly id: string;
  readonly is: Verdict['is'] | 'equal';
  readonly by?: string;
  readonly said?: string;
  readonly ms: number;
}

/** What was found of each mutant of one build of the core, a line a mutant, so that it can be gone on with. */
export class Results {
  readonly #file: string;
  readonly #found = new Map<string, Result>();

  constructor(hash: string) {
    this.#file = join(mutationFolder, `results-${hash}.jsonl`);
    if (!existsSync(this.#file)) return;
    for (const line of readFileSync(this.#file, 'utf8').split('\n').filter(Boolean)) {
      const result: Result = JSON.parse(line);
      this.#found.set(result.id, result);
    }
  }

  of(id: string): Result | undefined {
    return this.#found.get(id);
  }

  keep(result: Result): void {
    this.#found.set(result.id, result);
    appendFileSync(this.#file, `${JSON.stringify(result)}\n`);
  }

  forgetUnnoticed(): void {
    for (const { id, is } of [...this.#found.values()])
      if (is !== 'noticed' && is !== 'equal' && is !== 'not valid') this.#found.delete(id);
    writeFileSync(this.#file, [...this.#found.values()].map((one) => `${JSON.stringify(one)}\n`).join(''));
  }
}
