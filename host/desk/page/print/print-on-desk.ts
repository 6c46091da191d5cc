import { computed, type ReadonlySignal, signal } from '@preact/signals';
import { planProblems, type Recipe } from '../../../recipe/index.js';
import { loadPlanner, type RecipePlan } from '../../../recipe/planner/index.js';
import type { FieldProblem } from '../../../recipe/reading/field-problems.js';
import { nextVersion, type Origin, ownFile } from './kept-print.js';

/** What the core makes of a recipe: its times, or why it cannot be printed. */
export type Planned = { readonly plan: RecipePlan } | { readonly refusal: string };

/** So many steps can be taken back. */
const STEPS_KEPT = 500;

export interface Step {
  readonly recipe: Recipe;
  readonly origin: Origin;
  /** What led to it. */
  readonly step: string;
}

/** The one print that is worked on, and all that was done to it. */
export class PrintOnDesk {
  readonly #past = signal<readonly Step[]>([]);
  readonly #now;
  readonly #future = signal<readonly Step[]>([]);
  readonly recipe: ReadonlySignal<Recipe>;
  readonly origin: ReadonlySignal<Origin>;
  readonly planned: ReadonlySignal<Planned>;
  /** All that the core refuses, each by its field. */
  readonly problems: ReadonlySignal<readonly FieldProblem[]> = computed(() =>
    planProblems(this.recipe.value),
  );
  readonly mayUndo: ReadonlySignal<boolean> = computed(() => this.#past.value.length > 0);
  readonly mayRedo: ReadonlySignal<boolean> = computed(() => this.#future.value.length > 0);

  constructor(recipe: Recipe, origin: Origin = {}) {
    this.#now = signal<Step>({ recipe, origin, step: '' });
    this.origin = computed(() => this.#now.value.origin);
    this.recipe = computed(() => this.#now.value.recipe);
    this.planned = computed(() => planned(this.recipe.value, this.problems.value));
  }

  /** Changes of one step that follow each other, as those of a drag, are undone as one. */
  change(to: Recipe, step: string): void {
    const now = this.#now.value;
    if (to !== now.recipe) this.#go({ recipe: to, origin: now.origin, step });
  }

  /** What lies there now, to be known again. */
  step(): Step {
    return this.#now.peek();
  }

  /** Another print: a step like any other, so that what was there is not lost. */
  open(recipe: Recipe, origin: Origin): void {
    this.#go({ recipe, origin, step: newStep('open') });
  }

  /**
   * This one as it was kept. What was changed meanwhile is a change of what is kept now, and so is what Undo brings back: else
   * it would be written as the version that is in the file by then, or be taken for another's change of it.
   */
  kept(as: Recipe, origin: Origin, was: Step): void {
    const { name, version, history } = as;
    const isOfIt = isOfPrint(was);
    const keep = (step: Step): Step => {
      if (!isOfIt(step)) return step;
      const isNamedSo = step.recipe.name === was.recipe.name;
      return {
        recipe:
          step.recipe === was.recipe ? as : { ...step.recipe, version, history, ...(isNamedSo && { name }) },
        origin: isNamedSo ? origin : { ...origin, name: step.recipe.name },
        step: step.step,
      };
    };
    this.#past.value = this.#past.value.map(keep);
    this.#future.value = this.#future.value.map(keep);
    // By now another print may lie there, as one of an earlier night.
    this.#now.value = ended(keep(this.#now.value));
  }

  /** Called otherwise, it is still this print, with the file that it has. */
  rename(name: string): void {
    const { recipe, origin } = this.#now.value;
    if (name !== recipe.name)
      this.#go({ recipe: { ...recipe, name }, origin: { ...origin, name }, step: newStep('name') });
  }

  /** A new version that was worked out, as a command works it out from the file: with its own lines about the change. */
  revise(work: (recipe: Recipe, at: Date) => Recipe): void {
    const { recipe, origin } = this.#now.value;
    const at = new Date();
    const byHand = origin.before === undefined ? recipe : nextVersion(recipe, origin, at);
    const revised = work(byHand, at);
    const file = ownFile(recipe, origin);
    this.open(revised, file === undefined ? { before: revised } : { before: revised, file });
  }

  #go(to: Step): void {
    const now = this.#now.value;
    if (to.step !== now.step) this.#past.value = [...this.#past.value, now].slice(-STEPS_KEPT);
    this.#now.value = to;
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

let steps = 0;

/** A step like no other: what is done once, or from pressing to letting go. */
export function newStep(what: string): string {
  steps++;
  return `${what} ${steps}`;
}

/** Those that lead to the same print: a step may lie there from an earlier night as well, called alike. */
function isOfPrint(was: Step): (step: Step) => boolean {
  const file = ownFile(was.recipe, was.origin);
  return (step) => {
    if (step.origin === was.origin)
      return isVersionOf(step.recipe, was.recipe) && step.recipe.name === was.recipe.name;
    const own = ownFile(step.recipe, step.origin);
    const isSameFile =
      own?.name === file?.name && own?.text === file?.text && own?.isElsewhere === file?.isElsewhere;
    return own !== undefined && isSameFile && isItsOwn(step) && isItsOwn(was);
  };
}

function isItsOwn({ recipe, origin }: Step): boolean {
  return origin.before !== undefined && isVersionOf(recipe, origin.before);
}

function isVersionOf(one: Recipe, other: Recipe): boolean {
  return one.version === other.version && one.history.join() === other.history.join();
}

/** What comes after going back, or keeping, is a step of its own, whatever it is called. */
function ended({ recipe, origin }: Step): Step {
  return { recipe, origin, step: '' };
}

function planned(recipe: Recipe, [problem]: readonly FieldProblem[]): Planned {
  return problem === undefined ? { plan: loadPlanner().planRecipe(recipe) } : { refusal: problem.message };
}
