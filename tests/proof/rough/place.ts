import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { Flash } from '../../../host/board/sim/flash.js';
import { type OfferedPort, offerPort } from '../../../host/board/sim/pty.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { readRecipe, toBoardRecipe } from '../../../host/recipe/index.js';
import type { Recipe } from '../../../host/recipe/recipe.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { LaptopAndBoard } from '../../host/board/link/laptop.js';
import { printIntoArchive } from '../../host/records/again/print-into-archive.js';
import type { Chore } from './chores.js';
import type { Program } from './strace.js';

const STARTS = 150;
const BOARD_VERSION = 3;
const BOARD = '00000000000000c3';
export const OLD = 'what was there before';

/** What every run begins with: an archive of an evening, and a board whose log nobody has collected. */
export interface Beginning {
  readonly archive: string;
  readonly flash: Uint8Array;
  /** A file of the recipe in a later version than the board's. */
  readonly newer: string;
}

export async function makeBeginning(folder: string): Promise<Beginning> {
  const archive = join(folder, 'beginning.sqlite');
  const text = readFileSync(join(projectRoot, 'host/evening/boathouse.json'), 'utf8');
  const recipe = readRecipe(text);
  const newer = join(folder, 'newer.json');
  writeFileSync(newer, JSON.stringify({ ...JSON.parse(text), version: BOARD_VERSION + 1 }));
  await printIntoArchive(archive, recipe, async (printer, kept) => {
    await printer.print('boathouse');
    await printer.print('boathouse', { pushes: 1, clicks: 3 });
    const started = { boot: 1, seq: 1, uptimeMs: 0, type: 'started', fields: [1, 1, 0, 'power', 0] };
    await kept.keepRecords('00000000000000b2', 0, [started]);
  });
  return { archive, flash: await boardWithLog(recipe), newer };
}

async function boardWithLog(recipe: Recipe): Promise<Uint8Array> {
  const pair = new LaptopAndBoard({ boardId: BOARD });
  const { board } = pair;
  await pair.with((laptop) =>
    laptop.sendRecipe(toBoardRecipe({ ...recipe, version: BOARD_VERSION, baseMs: 9000 })),
  );
  for (let start = 1; start < STARTS; start++) {
    board.advanceUs(1_000_000);
    board.reset('watchdog');
  }
  board.advanceUs(1_000_000);
  const image = board.flash.image();
  board.close();
  return image;
}

/** Where one chore is done, once or again; the board goes on whatever becomes of the program. */
export class Place {
  readonly folder: string;
  readonly archive: string;
  readonly file: string | undefined;
  readonly #chore: Chore;
  readonly #logFile: string;
  #board: SimulatedBoard | undefined;
  #port: OfferedPort | undefined;

  constructor(around: string, chore: Chore) {
    this.folder = join(around, 'place');
    this.archive = join(this.folder, 'archive.sqlite');
    this.file = chore.file && join(this.folder, chore.file);
    this.#chore = chore;
    this.#logFile = join(around, 'calls.log');
  }

  async begin({ archive, flash }: Beginning): Promise<void> {
    rmSync(this.folder, { recursive: true, force: true });
    mkdirSync(this.folder);
    if (!this.#chore.anew) copyFileSync(archive, this.archive);
    if (this.file !== undefined && this.#chore.words.includes('--force')) writeFileSync(this.file, OLD);
    if (this.#chore.atBoard) await this.#plugIn(flash);
  }

  async #plugIn(image: Uint8Array): Promise<void> {
    this.end();
    const flash = new Flash();
    flash.load(image);
    this.#board = new SimulatedBoard({ flash, boardId: BOARD, speed: 20 });
    this.#port = await offerPort(this.#board.plug());
  }

  end(): void {
    this.#port?.close();
    this.#board?.close();
  }

  get program(): Program {
    const { words } = this.#chore;
    const main = join(projectRoot, 'dist/library/js/main.js');
    return {
      command: [process.execPath, main, ...words, ...(this.file === undefined ? [] : [this.file])],
      environment: {
        TREADLE_ARCHIVE: this.archive,
        XDG_DATA_HOME: this.folder,
        ...(this.#port && { TREADLE_PORT: this.#port.path }),
      },
      folder: this.folder,
      logFile: this.#logFile,
    };
  }

  get isArchiveThere(): boolean {
    return existsSync(this.archive);
  }

  /** The file that the chore leaves, as it is now. */
  get content(): string | undefined {
    return this.file !== undefined && existsSync(this.file) ? readFileSync(this.file, 'latin1') : undefined;
  }

  get litter(): string[] {
    return readdirSync(this.folder).filter((name) => name.startsWith('.'));
  }
}
