import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Answers } from '../../../../host/cli/questions/answers.js';
import { askBaths } from '../../../../host/cli/questions/baths/bath-questions.js';
import { conduct } from '../../../../host/cli/questions/conduct.js';
import type { Interview, Question } from '../../../../host/cli/questions/question.js';
import { askRecipe } from '../../../../host/cli/questions/recipe/recipe-questions.js';
import { askStrip } from '../../../../host/cli/questions/strip/strip-questions.js';
import { readBathsFile, usualBathsFile } from '../../../../host/recipe/baths/index.js';
import { type Recipe, UnreadableText } from '../../../../host/recipe/index.js';
import { loadPlanner } from '../../../../host/recipe/planner/index.js';
import { readStripFile } from '../../../../host/recipe/strip-file.js';
import { seed } from '../../../shared-protocol/arbitrary-message.js';
import { anyRecipe } from '../../recipe/any-recipe.js';

/** Somebody who takes what is ready, and now and then goes back. */
function returning(backs: readonly boolean[] = []): Answers & { readonly asked: string[] } {
  const left = [...backs];
  const asked: string[] = [];
  return {
    asked,
    async next(question: Question) {
      asked.push(question.ask);
      return left.shift() ? 'back' : '';
    },
    say() {},
    show() {},
    refuse(question, words) {
      throw new Error(`'${question.ask}' refuses what it has ready: ${words}`);
    },
    finish() {},
    close() {},
  };
}

function refuseFault(recipe: Recipe): void {
  const [fault] = loadPlanner().recipeFaults(recipe);
  if (fault !== undefined) throw new UnreadableText(fault.message);
}

const awkward = fc.constantFrom('none', 'back', '?', ' sky ', '"sky"', 'quit', '""', 'help', 'No', 'sky');

/** Labels and texts that could be taken for a word of ours among them. */
function awkwardRecipe(): fc.Arbitrary<Recipe> {
  return fc.tuple(anyRecipe(), fc.array(awkward, { minLength: 3, maxLength: 3 })).map(([recipe, words]) => ({
    ...recipe,
    title: words[0]!,
    paper: words[1]!,
    passes: recipe.passes.map((pass) => (pass.kind === 'burn' ? { ...pass, label: words[2]! } : pass)),
  }));
}

describe('what questions have ready', () => {
  it('makes the same recipe again by Return alone, however often somebody goes back', async () => {
    const recipes = fc.oneof(anyRecipe(), awkwardRecipe());
    await fc.assert(
      fc.asyncProperty(recipes, fc.array(fc.boolean(), { maxLength: 60 }), async (recipe, backs) => {
        expect(await conduct(() => askRecipe(recipe, refuseFault), returning(backs))).toEqual(recipe);
      }),
      { seed, numRuns: 300 },
    );
  });

  it('makes the same row of baths, and the same strip', async () => {
    const { baths } = readBathsFile(usualBathsFile());
    const again = (interview: () => Interview<unknown>) =>
      conduct(interview, returning([false, false, true]));
    expect(JSON.stringify(await again(() => askBaths(baths)))).toBe(JSON.stringify(baths));
    const strip = readStripFile(
      '{"first":"2s","step":"2.5s","patches":7,"cover":"separate","notes":"a\\nb"}',
    );
    expect(await again(() => askStrip(strip, () => {}))).toEqual(strip);
  });

  it('has a key for each question of its own', () => {
    fc.assert(
      fc.property(anyRecipe(), (recipe) => {
        const keys: string[] = [];
        const interview = askRecipe(recipe, refuseFault);
        for (let turn = interview.next(); !turn.done; turn = interview.next(turn.value.ready ?? '')) {
          keys.push(turn.value.key);
        }
        expect(new Set(keys).size).toBe(keys.length);
      }),
      { seed, numRuns: 200 },
    );
  });
});
