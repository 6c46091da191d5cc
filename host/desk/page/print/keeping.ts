import { signal } from '@preact/signals';
import { TreadleError } from '../../../errors.js';
import { readRecipe, UnreadableText } from '../../../recipe/index.js';
import { NotDoneError } from '../server-link.js';
import { fileText, keepVersion, serverKeeps, versionText, writeFile } from './kept-by-server.js';
import { fileNameOf, fileOf, nextVersion, type OwnFile, ownFile, usualPrint } from './kept-print.js';
import type { PrintOnDesk } from './print-on-desk.js';

/** Opens prints and keeps them, and tells what became of it. */
export class Keeping {
  readonly said = signal('');
  readonly refused = signal('');
  readonly #print: PrintOnDesk;

  constructor(print: PrintOnDesk) {
    this.#print = print;
  }

  begin(): Promise<void> {
    return this.#do(async () => {
      this.#print.open(usualPrint, {});
      return 'A new print: give it a title.';
    });
  }

  openText(file: OwnFile): Promise<void> {
    return this.#do(async () => this.#openFile(file));
  }

  openFromFolder(name: string): Promise<void> {
    return this.#do(async () => this.#openFile({ name, text: await fileText(name) }));
  }

  openVersion(content: string): Promise<void> {
    return this.#do(async () => {
      const recipe = readRecipe(await versionText(content));
      this.#print.open(recipe, { before: recipe });
      return `'${recipe.name}' version ${recipe.version} is on the desk.`;
    });
  }

  /** As a version in the archive. */
  keep(): Promise<void> {
    return this.#do(async () => {
      const recipe = await keepVersion(this.#next());
      const file = ownFile(recipe, this.#print.origin.peek());
      this.#print.open(recipe, file === undefined ? { before: recipe } : { before: recipe, file });
      return `'${recipe.name}' version ${recipe.version} is in the archive.`;
    });
  }

  /** As a file for the commands: into the desk's folder, or as a download where there is no server. */
  writeFile(): Promise<void> {
    return this.#do(async () => {
      const recipe = this.#next();
      const own = ownFile(recipe, this.#print.origin.peek());
      const name = fileNameOf(recipe, own);
      const text = fileOf(recipe, own);
      const isHere = serverKeeps() && own?.isElsewhere !== true;
      const where = isHere
        ? `in ${(await writeFile(name, text, own?.text ?? null)).path}`
        : download(name, text);
      this.#print.open(recipe, { before: recipe, file: { ...own, name, text } });
      return `'${recipe.name}' version ${recipe.version} is ${where}.`;
    });
  }

  #openFile(file: OwnFile): string {
    const recipe = readRecipe(file.text);
    this.#print.open(recipe, { before: recipe, file });
    return `${file.name} is on the desk.`;
  }

  #next() {
    const recipe = nextVersion(this.#print.recipe.peek(), this.#print.origin.peek(), new Date());
    const planned = this.#print.planned.peek();
    if ('refusal' in planned) throw new UnreadableText(`This cannot be printed: ${planned.refusal}`);
    return recipe;
  }

  async #do(work: () => Promise<string>): Promise<void> {
    this.refused.value = '';
    this.said.value = '';
    try {
      this.said.value = await work();
    } catch (error) {
      const isForPeople =
        error instanceof NotDoneError || error instanceof TreadleError || error instanceof UnreadableText;
      if (!isForPeople) throw error;
      this.refused.value = error.message;
    }
  }
}

function download(name: string, text: string): string {
  const url = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  Object.assign(document.createElement('a'), { href: url, download: name }).click();
  URL.revokeObjectURL(url);
  return `downloaded as ${name}`;
}
