import { computed, type ReadonlySignal, signal } from '@preact/signals';
import { planProblems, type Recipe } from '../../../recipe/index.js';
import { loadPlanner, type RecipePlan } from '../../../recipe/planner/index.js';

/** What the core makes of a recipe: its times, or why it cannot be printed. */
export type Planned = { readonly plan: RecipePlan } | { readonly refusal: string };

/** So many steps can be taken back. */
const STEPS_KEPT = 500;

interface Step {
  readonly recipe: Recipe;
  /** What led to it. */
  readonly step: string;
}

/** The one print that is worked on, and all that was done to it. */
export class PrintOnDesk {
  readonly #past = signal<readonly Step[]>([]);
  readonly #now;
  readonly #future = signal<readonly Step[]>([]);
  readonly recipe: ReadonlySignal<Recipe>;
  readonly planned: ReadonlySignal<Planned>;
  readonly mayUndo: ReadonlySignal<boolean> = computed(() => this.#past.value.length > 0);
  readonly mayRedo: ReadonlySignal<boolean> = computed(() => this.#future.value.length > 0);

  constructor(recipe: Recipe) {
    this.#now = signal<Step>({ recipe, step: '' });
    this.recipe = computed(() => this.#now.value.recipe);
    this.planned = computed(() => planned(this.recipe.value));
  }

  /** Changes of one step that follow each other, as those of a drag, are undone as one. */
  change(to: Recipe, step: string): void {
    const now = this.#now.value;
    if (to === now.recipe) return;
    if (step !== now.step) this.#past.value = [...this.#past.value, now].slice(-STEPS_KEPT);
    this.#now.value = { recipe: to, step };
    this.#future.value = [];
  }

  undo(): void {
    const last = this.#past.value.at(-1);
    if (last === undefined) return;
    this.#future.value = [...this.#future.value, this.#now.value];
    this.#past.value = this.#past.value.slice(0, -1);
    this.#now.value = ended(last);
  }

  redo(): void {
    const next = this.#future.value.at(-1);
    if (next === undefined) return;
    this.#past.value = [...this.#past.value, this.#now.value];
    this.#future.value = this.#future.value.slice(0, -1);
    this.#now.value = ended(next);
  }
}

/** What comes after going back is a step of its own, whatever it is called. */
function ended({ recipe }: Step): Step {
  return { recipe, step: '' };
}

function planned(recipe: Recipe): Planned {
  const [problem] = planProblems(recipe);
  return problem === undefined ? { plan: loadPlanner().planRecipe(recipe) } : { refusal: problem.message };
}
