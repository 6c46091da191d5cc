import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { PrintOnDesk } from '../../../host/desk/page/print/print-on-desk.js';
import { type Recipe, readRecipe } from '../../../host/recipe/index.js';
import { projectRoot } from '../../../shared-protocol/project.js';

const boathouse = readRecipe(readFileSync(join(projectRoot, 'host/evening/boathouse.json')));

function withBase(recipe: Recipe, baseMs: number): Recipe {
  return { ...recipe, baseMs };
}

describe('the print on the desk', () => {
  it('is planned by the core after every change, and what cannot be printed stays, with the refusal', () => {
    const print = new PrintOnDesk(boathouse);
    print.change(withBase(boathouse, 20_000), 'base');
    expect(print.planned.value).toMatchObject({ plan: { baseMs: expect.any(Number) } });
    print.change(withBase(boathouse, 40), 'base');
    expect(print.recipe.value.baseMs).toBe(40);
    expect(print.planned.value).toMatchObject({ refusal: expect.stringContaining('shorter than') });
  });

  it('takes changes of one step back as one, and those of two one by one', () => {
    const print = new PrintOnDesk(boathouse);
    for (const baseMs of [13_000, 14_000, 15_000]) print.change(withBase(boathouse, baseMs), 'drag 1');
    print.change(withBase(boathouse, 16_000), 'drag 2');
    print.undo();
    expect(print.recipe.value.baseMs).toBe(15_000);
    print.undo();
    expect(print.recipe.value).toEqual(boathouse);
    expect(print.mayUndo.value).toBe(false);
    print.redo();
    print.redo();
    expect(print.recipe.value.baseMs).toBe(16_000);
    expect(print.mayRedo.value).toBe(false);
  });

  it('a change after an undo is a way of its own: what was undone cannot come back into it', () => {
    const print = new PrintOnDesk(boathouse);
    print.change(withBase(boathouse, 13_000), 'one');
    print.undo();
    print.change(withBase(boathouse, 14_000), 'two');
    expect(print.mayRedo.value).toBe(false);
    print.undo();
    expect(print.recipe.value).toEqual(boathouse);
  });

  it('a change of the same step after an undo does not melt into what was before', () => {
    const print = new PrintOnDesk(boathouse);
    print.change(withBase(boathouse, 13_000), 'base');
    print.change(withBase(boathouse, 14_000), 'sky');
    print.undo();
    print.change(withBase(boathouse, 15_000), 'base');
    print.undo();
    expect(print.recipe.value.baseMs).toBe(13_000);
  });

  it('keeps what is changed of it while it is being kept, as a change of the version that was kept', () => {
    const print = new PrintOnDesk(boathouse, { before: boathouse });
    const was = print.step();
    const kept = { ...boathouse, version: boathouse.version + 1, history: ['base 10s to 12.5s'] };
    print.change(withBase(boathouse, 13_000), 'base');
    print.kept(kept, { before: kept }, was);
    expect(print.recipe.value).toEqual(withBase(kept, 13_000));
    expect(print.origin.value).toEqual({ before: kept });
    print.undo();
    expect(print.recipe.value).toEqual(kept);
    expect(print.origin.value).toEqual({ before: kept });
  });

  it('undoes what was done before it was written as a change of what is in the file by then, also under another name', () => {
    const file = { name: 'own.json', text: 'as it was opened' };
    const print = new PrintOnDesk(boathouse, { before: boathouse, file });
    print.change(withBase(boathouse, 13_000), 'base');
    print.rename('slipway');
    const was = print.step();
    const version = { ...was.recipe, version: boathouse.version + 1, history: ['base 10s to 13s'] };
    const origin = { before: version, file: { ...file, text: 'as it was written' } };
    print.kept(version, origin, was);
    expect(print.recipe.value).toEqual(version);
    print.undo();
    expect(print.recipe.value).toEqual({ ...version, name: 'boathouse' });
    expect(print.origin.value).toEqual({ ...origin, name: 'boathouse' });
    print.undo();
    expect(print.recipe.value).toEqual({ ...version, name: 'boathouse', baseMs: boathouse.baseMs });
    print.redo();
    print.redo();
    expect([print.recipe.value, print.origin.value]).toEqual([version, origin]);
  });

  it('stays what it is where it is another by the time that the one before was kept', () => {
    const print = new PrintOnDesk(boathouse, { before: boathouse });
    const was = print.step();
    const ofAnEarlierNight = { ...boathouse, version: boathouse.version - 1 };
    print.change(ofAnEarlierNight, 'again');
    print.kept({ ...boathouse, version: boathouse.version + 1 }, {}, was);
    expect(print.recipe.value).toEqual(ofAnEarlierNight);
    print.open(withBase(boathouse, 9000), {});
    print.kept({ ...boathouse, version: boathouse.version + 1 }, {}, was);
    expect(print.recipe.value).toEqual(withBase(boathouse, 9000));
  });
});
