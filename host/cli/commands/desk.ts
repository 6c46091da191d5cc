import { join, resolve } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import type { Command } from 'commander';
import {
  boardForDesk,
  boardRoom,
  flashRoom,
  KeptScan,
  nightsRoom,
  oneDeskPerArchive,
  openBrowser,
  openDeskServer,
  papersRoom,
  printsRoom,
  scanRoom,
  stripRoom,
  WorkThread,
  writeStaticDesk,
} from '../../desk/index.js';
import { FileThereError } from '../../files/file-access-error.js';
import { namingOption } from '../naming-option.js';
import { archiveOption, examples, forceOption, portOption } from '../options.js';
import { print, remark } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';

/** So long the page that leads to the desk is there for a browser that has to start first. */
const BROWSER_READS_MS = 10_000;

interface DeskOptions {
  readonly open: boolean;
  readonly static?: string;
  readonly force?: true;
  readonly archive?: string;
  readonly port?: string;
}

export function define(command: Command): void {
  command
    .argument('[folder]', 'where the files of recipes lie; by default the folder that you are in', '.')
    .option('--no-open', 'print the address and open nothing')
    .option('--static <folder>', 'write the page into this folder instead, to be opened without a server')
    .addOption(forceOption('with --static, write into a folder that is not empty'))
    .addOption(archiveOption())
    .addOption(portOption())
    .addHelpText('after', examples('treadle desk', 'treadle desk --static rehearsal'))
    .action(desk);
}

async function desk(files: string, options: DeskOptions): Promise<void> {
  const { open, static: folder, force, archive, port } = options;
  if (folder !== undefined) return writeFolder(folder, force === true);
  const board = boardForDesk(port);
  const prints = printsRoom({ archive, folder: resolve(files) });
  const flashing = flashRoom(board, { ...(archive && { archive }), ...(port && { port }) });
  const scans = new KeptScan(archive);
  const thread = new WorkThread();
  const rooms = [
    nightsRoom(archive),
    boardRoom(board, archive),
    flashing,
    scanRoom(scans),
    stripRoom(archive, thread, scans),
    prints,
    papersRoom(archive, thread),
  ];
  const server = await openDeskServer(rooms);
  try {
    const taken = await oneDeskPerArchive(archive, server.url);
    if ('url' in taken) await showFirst(taken.url, open);
    else await showUntilEnded(server.url, open).finally(() => taken.release());
  } finally {
    await server.close();
    await thread.close();
    await board.close();
  }
}

async function showUntilEnded(url: string, open: boolean): Promise<void> {
  const end = endAsked();
  const browser = open ? await openBrowser(url) : undefined;
  try {
    if (browser?.opened) remark('The desk is open in your browser. End it here with Ctrl-C.');
    else {
      if (open) remark('No browser could be opened: open this address yourself. End the desk with Ctrl-C.');
      print(url);
    }
    await end;
  } finally {
    await browser?.forget();
  }
}

/** The desk of this archive runs already: two would not know of each other's changes. */
async function showFirst(url: string, open: boolean): Promise<void> {
  remark('The desk of this archive is open already, and ends where it was begun. Here it is again.');
  const browser = open ? await openBrowser(url) : undefined;
  if (!browser?.opened) print(url);
  else await setTimeout(BROWSER_READS_MS);
  await browser?.forget();
}

async function writeFolder(folder: string, over: boolean): Promise<void> {
  try {
    await namingOption('--static', () => writeStaticDesk(folder, over));
  } catch (error) {
    if (!(error instanceof Error && error.cause instanceof FileThereError)) throw error;
    throw new UsageError(
      `--static: there is something in ${folder} already: name another folder, or add --force to write into it`,
    );
  }
  print(`Open ${join(folder, 'index.html')} in a browser.`);
}

/** Settles when the person has had enough. */
function endAsked(): Promise<void> {
  return new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, () => resolve());
  });
}
