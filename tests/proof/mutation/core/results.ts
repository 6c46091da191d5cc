import { appendFileSync, existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
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

/** What was found of each mutant of one build, a line a mutant, so that it can be gone on with. */
export class Results {
  readonly #file: string;
  readonly #found = new Map<string, Result>();

  /** @param before what to begin with where nothing was kept by that name */
  constructor(name: string, before: readonly Result[] = []) {
    this.#file = join(mutationFolder, `results-${name}.jsonl`);
    if (existsSync(this.#file)) for (const result of read(this.#file)) this.#found.set(result.id, result);
    else for (const result of before) this.keep(result);
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

function read(file: string): Result[] {
  const lines = readFileSync(file, 'utf8').split('\n').filter(Boolean);
  return lines.map((line) => JSON.parse(line));
}

/** What the build of the core that was tried last had noticed: a new one begins with it, in functions that are as they were. */
export function noticedByNewest(): Result[] {
  const files = readdirSync(mutationFolder)
    .filter((name) => /^results-[0-9a-f]{16}\.jsonl$/.test(name))
    .map((name) => join(mutationFolder, name))
    .toSorted((one, other) => statSync(other).mtimeMs - statSync(one).mtimeMs);
  return files[0] === undefined ? [] : read(files[0]).filter(({ is }) => is === 'noticed');
}
