import { describe, expect, it } from 'vitest';
import type { LogRecord } from '../../host/board/link/log-record.js';
import { nameNow } from '../../shared-protocol/index.js';
import { LaptopAndBoard } from '../host/board/link/laptop.js';
import { seedFlash, seedHeld } from './seed.js';

const settingsNow: Readonly<Record<string, string>> = { 'dodge-stops': 'pause-for-dodges' };

// A board that gets new firmware keeps its log, recipes, baths and settings.
describe.each([1])('a flash of format %i is read by this build:', (format) => {
  const held = seedHeld(format);
  const board = () => new LaptopAndBoard({ flash: seedFlash(format) });

  it('every setting', async () => {
    const settings = await board().with((laptop) => laptop.allSettings());
    const expected = Object.entries(held.settings).map(([name, value]) => [settingsNow[name] ?? name, value]);
    expect(settings).toMatchObject(Object.fromEntries(expected));
  });

  it('every bath and its tally', async () => {
    expect(await board().with((laptop) => laptop.allBaths())).toEqual(held.baths);
  });

  it('every recipe, text by text', async () => {
    const recipes = await board().with(async (laptop) => {
      const names = (await laptop.listRecipes()).map(({ name }) => name);
      const whole = [];
      for (const name of names) whole.push(await laptop.getRecipe(name));
      return whole;
    });
    expect(recipes).toEqual(held.recipes);
  });

  it('every record that was not forgotten, the interrupted exposure among them', async () => {
    const log: LogRecord[] = [];
    const fresh = board();
    fresh.board.advanceUs(1_000_000); // its own start is written
    await fresh.with(async (laptop) => {
      for await (const batch of laptop.collect(0)) log.push(...batch.records);
    });
    const before = log.filter(({ seq }) => seq < held.nextSeq);
    expect(before[0]!.seq).toBe(held.oldestSeq);
    expect(before.map(({ type, fields }) => [type, ...fields])).toEqual(
      held.log.map(([, type, ...fields]) => [nameNow(type), ...fields]),
    );
    expect(before.filter(({ fields }) => fields.includes('interrupted'))).toHaveLength(1);
    expect(log.length).toBeGreaterThan(before.length);
  });
});
