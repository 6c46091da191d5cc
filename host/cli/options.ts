import { Option } from 'commander';

/** Options that several commands share, each worded once. */
export const jsonOption = (what = 'print the data as JSON, for scripts') => new Option('--json', what);
export const portOption = () =>
  new Option('--port <path>', 'the serial port of the board; left out, the only board found is taken').env(
    'TREADLE_PORT',
  );
export const archiveOption = () =>
  new Option('--archive <file>', 'the archive; left out, the one in your user data folder').env(
    'TREADLE_ARCHIVE',
  );
export const lagOption = () =>
  new Option('--lag <time>', 'light that the lamp loses in each exposure').default('0ms');
export const riseOption = () =>
  new Option('--rise <time>', 'time constant of the lamp coming up').default('0ms');

export const outputOption = (what = 'where to write the new version') =>
  new Option('-o, --output <file>', what);
export const forceOption = (what = 'write over a file that is there') => new Option('--force', what);
export const filtersOption = () =>
  new Option('--filters <file>', 'your own table of filters; left out, a common one');

/** Examples under a command's help. */
export function examples(...lines: readonly string[]): string {
  const heading = lines.length === 1 ? 'Example' : 'Examples';
  return `\n${heading}:\n${lines.map((line) => `  $ ${line}`).join('\n')}`;
}
