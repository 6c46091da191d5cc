import { z } from 'zod';
import { type SettingName, settings } from '../../../../shared-protocol/schema.js';
import { readBoardName } from '../../../board/board-name.js';
import { InputError } from '../../../errors.js';
import { counted } from '../../../figures.js';
import type { Bath } from '../../../recipe/baths/bath.js';
import { formatBathTime, leftOf, readWholeBaths } from '../../../recipe/baths/index.js';
import { readRecipe } from '../../../recipe/index.js';
import { readBySchema } from '../../../recipe/reading/read-by-schema.js';
import { readStrip, stripSettings } from '../../../recipe/strip-file.js';
import { formatSetting, readSetting, settingBounds } from '../../../recipe/text/setting-text.js';
import { UnreadableText } from '../../../recipe/text/unreadable-text.js';
import { openArchive } from '../../../records/archive/file-archive.js';
import { collectEverything, collectedWords } from '../../../records/recipes/collect-everything.js';
import { RecipeOverError } from '../../../records/recipes/not-over.js';
import { sendRecipe } from '../../../records/recipes/send-recipe.js';
import { sentWords } from '../../../records/recipes/sent-words.js';
import { json, type Way, type Ways } from '../way.js';
import type { BoardAtDesk } from './board-at-desk.js';
import type { BathTold, SentTold, SettingTold } from './told.js';

const names = Object.keys(settings) as SettingName[];

const stripAsked = z.strictObject({ strip: z.string() });
const recipeAsked = z.strictObject({ recipe: z.string(), asNext: z.boolean() });
const settingAsked = z.strictObject({
  name: z.enum(names as [SettingName, ...SettingName[]]),
  value: z.string(),
});
const nameAsked = z.strictObject({ name: z.string() });
/** Asks for what needs no more words. */
const nothingMore = z.strictObject({});
const bathAsked = z.strictObject({ bath: z.int().min(1).max(99) });

/** What was typed cannot be meant. */
class TypedError extends InputError {
  override readonly name = 'TypedError';
}

/** The board at the desk. There is no way to the lamp among these, since the protocol has none. */
export function boardRoom(desk: BoardAtDesk, archive: string | undefined): Ways {
  return {
    '/api/board': {
      GET: { answer: ({ gone }) => ({ type: 'application/x-ndjson', pieces: desk.news(gone) }) },
    },
    '/api/board/print': { POST: send(desk, archive) },
    '/api/board/strip': { POST: sendStrip(desk) },
    '/api/board/log': { POST: collect(desk, archive) },
    '/api/board/settings': {
      GET: {
        answer: async () => json(await desk.with(async (board) => settingsOf(await board.allSettings()))),
      },
      POST: {
        answer: async ({ body }) => {
          const { name, value } = readBySchema(body, settingAsked);
          const wanted = typed(name, () => readSetting(name, value));
          const now = await desk.with((board) => board.setSetting(name, wanted));
          desk.tellChange();
          return json(settingsOf({ [name]: now }));
        },
      },
    },
    '/api/board/name': {
      POST: {
        answer: async ({ body }) => {
          const wanted = typed('name', () => readBoardName(readBySchema(body, nameAsked).name));
          await desk.with((board) => board.setName(wanted));
          desk.tellName(wanted);
          return json({ name: wanted });
        },
      },
    },
    '/api/board/baths': {
      GET: { answer: async () => json(await baths(desk)) },
      POST: {
        answer: async ({ body }) => {
          const wanted = readWholeBaths(body);
          await desk.with(async (board) => {
            await board.setBaths(wanted.baths);
            await board.setBathTimes(wanted.times);
          });
          desk.tellChange();
          return json(await baths(desk));
        },
      },
    },
    '/api/board/mixed': {
      POST: {
        answer: async ({ body }) => {
          const { bath } = readBySchema(body, bathAsked);
          await desk.with((board) => board.renewBath(bath));
          desk.tellChange();
          return json(await baths(desk));
        },
      },
    },
  };
}

/** The print on the desk; nothing takes another's place unasked. */
function send(desk: BoardAtDesk, name: string | undefined): Way {
  return {
    mostBodyBytes: 600_000,
    answer: async ({ body }) => {
      const { recipe: text, asNext } = readBySchema(body, recipeAsked);
      const recipe = readRecipe(text);
      await using archive = await openArchive(name);
      const sent = (): Promise<SentTold> =>
        desk.with(async (board) => {
          const onProgress = desk.progress('lines');
          const done = await sendRecipe(archive, board, recipe, { asNext, onProgress });
          return { version: done.recipe.version, words: sentWords(done, board.id).join(' ') };
        });
      return json(await sent().catch(overOf));
    },
  };
}

/** The strip that the pedal starts next. */
function sendStrip(desk: BoardAtDesk): Way {
  return {
    answer: async ({ body }) => {
      const strip = stripSettings(readStrip(readBySchema(body, stripAsked).strip));
      const id = await desk.with(async (board) => {
        await board.setStrip(strip);
        return board.id;
      });
      desk.tellChange();
      return json({ words: `The strip is on board ${id}: the pedal starts it.` });
    },
  };
}

function overOf(error: unknown): SentTold {
  if (error instanceof RecipeOverError) return { over: error.message };
  throw error;
}

function collect(desk: BoardAtDesk, name: string | undefined): Way {
  return {
    answer: async ({ body }) => {
      readBySchema(body, nothingMore);
      await using archive = await openArchive(name);
      const collected = await desk.with((board) =>
        collectEverything(archive, board, desk.progress('entries')),
      );
      return json({ words: collectedWords(collected, archive.file) });
    },
  };
}

function settingsOf(values: Partial<Record<SettingName, number>>): SettingTold[] {
  return names
    .filter((name) => values[name] !== undefined)
    .map((name) => ({
      name,
      value: formatSetting(name, values[name]!),
      bounds: settingBounds(name),
      meaning: settings[name].meaning,
    }));
}

function baths(desk: BoardAtDesk): Promise<BathTold[]> {
  return desk.with(async (board) => {
    const sheetCm2 = await board.getSetting('sheet-cm2');
    return (await board.allBaths()).map((bath) => bathTold(bath, sheetCm2));
  });
}

function bathTold(bath: Bath, sheetCm2: number): BathTold {
  const left = leftOf(bath, sheetCm2);
  const time = (seconds: number) => (seconds === 0 ? '-' : formatBathTime(seconds));
  return {
    bath: bath.bath,
    label: bath.label,
    time: `${time(bath.resinCoatedSeconds)}, fibre ${time(bath.fibreSeconds)}`,
    sinceMixed: `${counted(bath.sheets, 'sheet')}, ${bath.areaCm2} cm2`,
    left: left === undefined ? '' : left.sheets === 0 ? 'used up' : counted(left.sheets, 'sheet'),
  };
}

/** @throws TypedError with the name of what was typed. */
function typed<Value>(name: string, read: () => Value): Value {
  try {
    return read();
  } catch (error) {
    if (error instanceof UnreadableText) throw new TypedError(`${name}: ${error.message}`);
    throw error;
  }
}
