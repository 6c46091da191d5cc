import { readFileSync } from 'node:fs';
import type { LogRecord } from '../../../../host/board/link/log-record.js';
import { holdPedal, tapPedal } from '../../../../host/board/sim/controls.js';
import { readRecipe } from '../../../../host/recipe/index.js';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { strip } from '../../../host/board/link/laptop.js';
import { Printer } from '../../../host/records/again/printer.js';

export const boathouse = readRecipe(readFileSync(`${projectRoot}/host/evening/boathouse.json`));
const MOST_TAPS = 60;

/** What the real board logs in a night in which one recipe is printed over and over, and last a strip: so many records. */
export async function nightOfPrints(count: number): Promise<LogRecord[]> {
  const printer = new Printer();
  await printer.setUp([boathouse]);
  let records: LogRecord[] = [];
  const last = async () => {
    records = await logOf(printer);
    return records.length;
  };
  while ((await last()) < count - 20) await printer.print(boathouse.name);
  await exposeStrip(printer);
  await last();
  return records.slice(-count);
}

async function exposeStrip({ pair }: Printer): Promise<void> {
  await pair.with(async (board) => {
    await board.setStrip(strip);
    await board.choose('strip');
  });
  for (let taps = 0; taps < MOST_TAPS && !/done/.test(pair.board.panel.join(' ')); taps++) {
    tapPedal(pair.board);
    while (pair.board.lampOn) pair.board.advanceUs(1_000_000);
    pair.board.advanceUs(1_000_000);
  }
  holdPedal(pair.board, 900);
  pair.board.advanceUs(2_000_000);
}

async function logOf({ pair }: Printer): Promise<LogRecord[]> {
  const records: LogRecord[] = [];
  await pair.with(async (board) => {
    for await (const batch of board.collect(1)) records.push(...batch.records);
  });
  return records;
}
