const NOON = 12;

/**
 * The night that a moment belongs to, as the date of its evening in local time: a night runs from noon to noon, also
 * where the clocks are changed in it.
 */
export function nightOf(epochMs: number): string {
  const date = new Date(epochMs);
  const evening = new Date(
    date.getFullYear(),
    date.getMonth(),
    date.getDate() - (date.getHours() < NOON ? 1 : 0),
  );
  const two = (value: number) => String(value).padStart(2, '0');
  return `${String(evening.getFullYear()).padStart(4, '0')}-${two(evening.getMonth() + 1)}-${two(evening.getDate())}`;
}

export function nightBefore(night: string): string {
  return nightOf(nightSpan(night).fromMs - 1);
}

/** From its noon on, and until the next, in milliseconds since 1970. */
export function nightSpan(night: string): { readonly fromMs: number; readonly untilMs: number } {
  const [year, month, day] = night.split('-').map(Number) as [number, number, number];
  const noonOf = (date: number) => new Date(year, month - 1, date, NOON).getTime();
  return { fromMs: noonOf(day), untilMs: noonOf(day + 1) };
}
