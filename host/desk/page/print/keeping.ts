import { signal } from '@preact/signals';
import { TreadleError } from '../../../errors.js';
import { type Recipe, readRecipe, UnreadableText } from '../../../recipe/index.js';
import { InTurn } from '../../in-turn.js';
import { NotDoneError } from '../server-link.js';
import { fileText, keepVersion, serverKeeps, versionText, writeFile } from './kept-by-server.js';
import {
  fileNameOf,
  fileOf,
  nextVersion,
  type Origin,
  type OwnFile,
  ownFile,
  usualPrint,
} from './kept-print.js';
import type { PrintOnDesk } from './print-on-desk.js';

const CHANGED_BEFORE =
  ' What was changed before it came is in the print that lay there: Undo brings that back.';

interface Opened {
  readonly recipe: Recipe;
  readonly origin: Origin;
  readonly called: string;
}

/**
 * Opens prints and keeps them, and tells what became of it. Answers may be slow, and a person goes on meanwhile: what is
 * asked is done in turn, and what was changed before an answer came is kept or told of.
 */
export class Keeping {
  readonly said = signal('');
  readonly refused = signal('');
  readonly #print: PrintOnDesk;
  readonly #inTurn = new InTurn();

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
    return this.#open(async () => inFile(file));
  }

  openFromFolder(name: string): Promise<void> {
    return this.#open(async () => inFile({ name, text: await fileText(name) }));
  }

  openVersion(content: string): Promise<void> {
    return this.#open(async () => {
      const recipe = readRecipe(await versionText(content));
      return { recipe, origin: { before: recipe }, called: `'${recipe.name}' version ${recipe.version}` };
    });
  }

  /** As a version in the archive. */
  keep(): Promise<void> {
    return this.#do(async () => {
      const was = this.#print.step();
      const recipe = await keepVersion(this.#next());
      const file = ownFile(recipe, was.origin);
      this.#print.kept(recipe, file === undefined ? { before: recipe } : { before: recipe, file }, was);
      return `'${recipe.name}' version ${recipe.version} is in the archive.`;
    });
  }

  /** As a file for the commands: into the desk's folder, or as a download where there is no server. */
  writeFile(): Promise<void> {
    return this.#do(async () => {
      const was = this.#print.step();
      const recipe = this.#next();
      const own = ownFile(recipe, was.origin);
      const name = fileNameOf(recipe, own);
      const text = fileOf(recipe, own);
      const isHere = serverKeeps() && own?.isElsewhere !== true;
      const where = isHere
        ? `in ${(await writeFile(name, text, own?.text ?? null)).path}`
        : download(name, text);
      this.#print.kept(recipe, { before: recipe, file: { ...own, name, text } }, was);
      return `'${recipe.name}' version ${recipe.version} is ${where}.`;
    });
  }

  #open(read: () => Promise<Opened>): Promise<void> {
    return this.#do(async () => {
      const was = this.#print.recipe.peek();
      const { recipe, origin, called } = await read();
      const isChanged = this.#print.recipe.peek() !== was;
      this.#print.open(recipe, origin);
      return `${called} is on the desk.${isChanged ? CHANGED_BEFORE : ''}`;
    });
  }

  #next() {
    const recipe = nextVersion(this.#print.recipe.peek(), this.#print.origin.peek(), new Date());
    const planned = this.#print.planned.peek();
    if ('refusal' in planned) throw new UnreadableText(`This cannot be printed: ${planned.refusal}`);
    return recipe;
  }

  #do(work: () => Promise<string>): Promise<void> {
    return this.#inTurn.do(() => this.#tell(work));
  }

  async #tell(work: () => Promise<string>): Promise<void> {
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

function inFile(file: OwnFile): Opened {
  const recipe = readRecipe(file.text);
  return { recipe, origin: { before: recipe, file }, called: file.name };
}

function download(name: string, text: string): string {
  const url = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  Object.assign(document.createElement('a'), { href: url, download: name }).click();
  URL.revokeObjectURL(url);
  return `downloaded as ${name}`;
}
