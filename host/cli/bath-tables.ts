import type { TemperatureTime } from '../recipe/baths/bath.js';
import { formatBathTime, formatDegreesC } from '../recipe/baths/index.js';
import { type Column, table } from './terminal/table.js';

/** What every table of baths begins with. */
export const BATH_COLUMNS: readonly Column[] = [
  { head: 'bath', align: 'right' },
  { head: '' },
  { head: 'resin-coated', align: 'right' },
  { head: 'fibre', align: 'right' },
  { head: 'drain', align: 'right' },
  { head: 'agitation' },
];

export function temperatureTable(times: readonly TemperatureTime[]): string {
  return table(
    [
      { head: '' },
      { head: 'tray', align: 'right' },
      { head: 'resin-coated', align: 'right' },
      { head: 'fibre', align: 'right' },
    ],
    times.map(({ label, trayC10, resinCoatedSeconds, fibreSeconds }) => [
      label,
      formatDegreesC(trayC10),
      timeOr(resinCoatedSeconds, '-'),
      timeOr(fibreSeconds, '-'),
    ]),
  );
}

export function timeOr(seconds: number, nothing: string): string {
  return seconds === 0 ? nothing : formatBathTime(seconds);
}
