/** Lines that were no lines, counted since power-up for whoever diagnoses the cable. */
export let badLines: u32 = 0;
export let badCrcs: u32 = 0;

export function countBadLine(): void {
  badLines++;
}

export function countBadCrc(): void {
  badCrcs++;
}
