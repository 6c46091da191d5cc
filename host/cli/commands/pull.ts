import type { Command } from 'commander';
import { counted } from '../../figures.js';
import { Archive } from '../../records/archive/archive.js';
import { type PullReport, pullIntoArchive } from '../../records/archive/pull-log.js';
import { type BoardOptions, withBoardThroughLosses } from '../board-session.js';
import { archiveOption, examples, jsonOption, portOption } from '../options.js';
import { print, printJson } from '../terminal/print.js';
import { progress } from '../terminal/progress.js';

interface PullOptions extends BoardOptions {
  readonly archive?: string;
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .addOption(portOption())
    .addOption(archiveOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle pull', 'treadle pull --archive prints.sqlite'))
    .action(pull);
}

/** The archive is opened first: a board is not asked for what could not be kept. Any version's log can be kept. */
async function pull(options: PullOptions): Promise<void> {
  using archive = await Archive.open(options.archive);
  const report = await withBoardThroughLosses(options, (board) => pullWithBar(archive, board), {
    acceptOtherVersion: true,
  });
  if (options.json) printJson({ ...report, archive: archive.file });
  else print(words(report, archive.file));
}

async function pullWithBar(
  archive: Archive,
  board: Parameters<typeof pullIntoArchive>[1],
): Promise<PullReport> {
  const bar = progress('entries');
  try {
    return await pullIntoArchive(archive, board, { onProgress: bar.to });
  } finally {
    bar.stop();
  }
}

function words({ board, added, known, holes, forgottenUptoSeq }: PullReport, file: string): string {
  const lines = [`${counted(added, 'new record')} of board ${board} in ${file}.`];
  if (known > 0) lines.push(`${counted(known, 'record')} came that the archive had already.`);
  if (holes.length > 0)
    lines.push(`The board has no record for ${counted(holes.length, 'number')}: ${holes.join(', ')}.`);
  if (added > 0 && forgottenUptoSeq === undefined)
    lines.push('The board is busy and keeps them too, until the next pull.');
  return lines.join('\n');
}
