import type { NightKey, NightsTold, SheetTold } from '../../server/nights/told.js';

/** The address part that names a night. */
export function nightQuery(key: NightKey): string {
  if ('night' in key) return `night=${key.night}`;
  const { board, log, boot } = key.run;
  return new URLSearchParams({ board, log: `${log}`, boot: `${boot}` }).toString();
}

/** The address part that names a sheet. */
export function sheetQuery({ key, place }: Pick<SheetTold, 'key' | 'place'>): string {
  const { board, log, boot, seq } = place;
  const night = 'night' in key ? { night: key.night } : {};
  return new URLSearchParams({ ...night, board, log: `${log}`, boot: `${boot}`, seq: `${seq}` }).toString();
}

/** A night is told anew after each remark, and so is its sheet. */
export function isSameSheet(one: SheetTold, other: SheetTold): boolean {
  return sheetQuery(one) === sheetQuery(other);
}

type NightLine = NightsTold['nights'][number];

export function keyOf({ night, undated }: NightLine): NightKey {
  return night === null ? { run: undated[0]! } : { night };
}

/** 'Friday, 5 March 2027', as the evening's own date has it, whatever the time zone. */
export function dateWords(night: string): string {
  const [year, month, day] = night.split('-').map(Number) as [number, number, number];
  return new Intl.DateTimeFormat('en-GB', { dateStyle: 'full' }).format(new Date(year, month - 1, day));
}

export function nightWords(key: NightKey): string {
  return 'night' in key ? dateWords(key.night) : `Power-on ${key.run.boot}, without a date`;
}

export function timeWords(at: string | null): string {
  if (at === null) return '';
  return new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit' }).format(new Date(at));
}
