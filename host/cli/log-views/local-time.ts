/** The time of day as the laptop has it, to the second; nothing where no time is known. */
export function localTime(epochMs: number | null): string {
  if (epochMs === null) return '';
  const date = new Date(epochMs);
  return [date.getHours(), date.getMinutes(), date.getSeconds()]
    .map((part) => `${part}`.padStart(2, '0'))
    .join(':');
}
