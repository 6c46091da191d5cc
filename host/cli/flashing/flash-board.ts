import { flashBoard, flashedWords } from '../../records/flashing/flash-board.js';
import type { Flashed, FlashOptions } from '../../records/flashing/flash-options.js';
import { atPorts, type BoardOptions, withTrace } from '../board-session.js';
import { print, printJson, remark } from '../terminal/print.js';
import { progress } from '../terminal/progress.js';
import { readImage } from './image-file.js';

interface FlashCommandOptions extends BoardOptions, Omit<FlashOptions, 'opening'> {
  readonly json?: true;
}

/** Puts the image of that name on the board, or the own one. */
export async function flashFromCommand(
  file: string | undefined,
  { trace, json, ...options }: FlashCommandOptions,
): Promise<void> {
  const image = await readImage(file);
  const flashed = await withTrace(trace, (observed) =>
    flashBoard(image, { ...options, opening: { ...atPorts(), ...observed } }, { say: remark, progress }),
  );
  if (json) printJson(dataOf(flashed));
  else print(flashedWords(flashed));
}

function dataOf({ now, before }: Flashed) {
  const { boardId, firmwareVersion, schemaHash } = now;
  const log = before && { archive: before.archive, newRecords: before.newRecords };
  return {
    ...{ board: boardId, version: firmwareVersion, schemaHash },
    ...{ before: before?.welcome.firmwareVersion ?? null, log: log ?? null },
  };
}
