import type { Board } from '../../../host/board/link/board.js';
import { type BoardRecipe, fromBoardRecipe } from '../../../host/recipe/board-recipe.js';
import { writeRecipe } from '../../../host/recipe/write-recipe.js';
import { limits } from '../../../shared-protocol/limits.js';
import type { Random } from '../../setup/random.js';

const NAMES = ['low-tide', 'slipway', 'reeds'] as const;
const ABSENT = 'absent';

/**
 * Which recipes the board may hold: what it acknowledged last, or anything that was asked of it since. The printer may
 * turn a recipe's figures and keep it, which makes it another version of the same.
 */
export class RecipeShelf {
  readonly #random: Random;
  readonly #possible = new Map<string, Set<string>>(NAMES.map((name) => [name, new Set([ABSENT])]));
  #version = 0;
  #pushed: string = NAMES[0];

  constructor(random: Random) {
    this.#random = random;
  }

  anyName(): string {
    return this.#random.pick(NAMES);
  }

  /** Mostly one that should be there. */
  likelyName(): string {
    return this.#random.chance(0.2) ? this.anyName() : this.#pushed;
  }

  async push(board: Board): Promise<void> {
    const recipe = this.#draw();
    this.#pushed = recipe.name;
    await this.#ask(recipe.name, bodyOf(recipe), () => board.sendRecipe(recipe));
  }

  async drop(board: Board): Promise<void> {
    const name = this.anyName();
    await this.#ask(name, ABSENT, () => board.removeRecipe(name));
  }

  /**
   * Words for what is wrong with the recipes that the board has in the end; undefined when all is well.
   * @param turned whether somebody turned the knob.
   */
  async fault(board: Board, turned: boolean): Promise<string | undefined> {
    const kept = new Set((await board.listRecipes()).map(({ name }) => name));
    for (const [name, possible] of this.#possible) {
      const body = kept.has(name) ? bodyOf(await board.getRecipe(name)) : ABSENT;
      if (!possible.has(body) && !(turned && [...possible].some((each) => isTurned(body, each))))
        return `recipe ${name} is ${body}, none of ${[...possible].join(' ')}`;
    }
    return undefined;
  }

  /** An answer makes it certain; anything else leaves both open. */
  async #ask(name: string, after: string, ask: () => Promise<void>): Promise<void> {
    this.#possible.get(name)!.add(after);
    await ask();
    this.#possible.set(name, new Set([after]));
  }

  /** A recipe as the text of a file. */
  fileText(): string {
    const recipe = fromBoardRecipe(this.#draw());
    return writeRecipe({ ...recipe, passes: recipe.passes.map((pass) => ({ ...pass, label: pass.kind })) });
  }

  #draw(): BoardRecipe {
    const passes = this.#random.between(1, 3);
    return {
      name: this.anyName(),
      version: ++this.#version,
      title: 'Skelder Mere',
      negative: '12-7',
      paper: '',
      baseMs: this.#random.between(600, 2_500),
      aperture10: 80,
      magnification1000: 4000,
      dryDown10: this.#random.pick([0, 80]),
      passes: Array.from({ length: passes }, (_, index) => ({
        kind: index === 0 ? 'base' : 'burn',
        label: index === 0 ? '' : 'sky',
        filter: '2',
        stops120:
          index === 0
            ? 0
            : this.#random.between(60 * limits.fineParts, 120 * limits.fineParts) / limits.fineParts,
        dodges: index === 0 && this.#random.chance(0.5) ? [{ label: 'face', stops120: -60 }] : [],
      })),
    };
  }
}

function bodyOf(recipe: BoardRecipe): string {
  return JSON.stringify(recipe);
}

/** A later version of the same, alike in all but what the knob turns. */
function isTurned(body: string, before: string): boolean {
  if (body === ABSENT || before === ABSENT) return false;
  const [now, then] = [JSON.parse(body) as BoardRecipe, JSON.parse(before) as BoardRecipe];
  return now.version > then.version && withoutFigures(now) === withoutFigures(then);
}

function withoutFigures(recipe: BoardRecipe): string {
  return JSON.stringify({ ...recipe, version: 0, baseMs: 0 }, (key, value) =>
    key === 'stops120' ? 0 : value,
  );
}
