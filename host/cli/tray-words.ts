import type { TemperatureTime } from '../recipe/baths/bath.js';
import { formatDegreesC } from '../recipe/baths/index.js';

/** A line for each bath that the board will not begin while the tray is as it is, since it has no times for that. */
export function bathsThatWait(times: readonly TemperatureTime[], trayC10: number): string[] {
  return [...new Set(times.map(({ label }) => label))].flatMap((label) => {
    const temperatures = times.filter((time) => time.label === label).map((time) => time.trayC10);
    const [coldest, warmest] = [Math.min(...temperatures), Math.max(...temperatures)];
    if (trayC10 >= coldest && trayC10 <= warmest) return [];
    return `${label} has times from ${formatDegreesC(coldest)} to ${formatDegreesC(warmest)}: the board does not begin it until the tray is there.`;
  });
}
