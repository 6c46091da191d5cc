import { Option } from 'commander';

/** Options that several commands share, each worded once. */
export const jsonOption = (what = 'print JSON, for scripts') => new Option('--json', what);
export const portOption = () =>
  new Option(
    '--port <path>',
    'serial port of the board, or its name or id; needed only if several boards are connected',
  ).env('TREADLE_PORT');
export const traceOption = () =>
  new Option('--trace <file>', 'write all that is said to and by the board into this new file');
export const archiveOption = () =>
  new Option('--archive <file>', 'archive file; by default one in your user data folder').env(
    'TREADLE_ARCHIVE',
  );
/** `--archive` where a file need not follow it: the environment's archive, or the usual one. */
export const archiveNamed = (file: string | true | undefined): string | undefined =>
  typeof file === 'string' ? file : process.env.TREADLE_ARCHIVE;
export const lagOption = () =>
  new Option('--lag <time>', 'light lost in each exposure while the lamp comes up').default('0ms');
export const riseOption = () =>
  new Option('--rise <time>', 'how slowly the lamp comes up, as a time constant').default('0ms');

export const outputOption = (what = 'file for the new version') => new Option('-o, --output <file>', what);
export const forceOption = (what = 'write over a file that is there already') => new Option('--force', what);
export const filtersOption = () =>
  new Option(
    '--filters <file>',
    "your own filter table ('treadle schema filters' says how); by default a common one",
  );

/** For the commands that read a print from the log. */
export const SHEET_WORDS =
  "a print as 'treadle nights' shows it: 2027-03-05/7, or 7 of the latest night, or last";
export const cutOption = () =>
  new Option(
    '--cut <much>',
    'how much fell of light that a power cut ended, which no log tells: all, none or a time',
  );
export const asNextOption = () =>
  new Option('--as-next', 'as the version after the newest, where the board has a newer one');

/** Examples under a command's help. */
export function examples(...lines: readonly string[]): string {
  const heading = lines.length === 1 ? 'Example' : 'Examples';
  return `\n${heading}:\n${lines.map((line) => `  $ ${line}`).join('\n')}`;
}
