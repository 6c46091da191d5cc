import { InputError } from '../../../errors.js';
import type { RecordFilter } from '../../../records/archive/archive.js';
import type { NightKey } from './told.js';

/** The page asked for a night that no night can be. */
class NightKeyError extends InputError {
  override readonly name = 'NightKeyError';
}

/** The night that an address names, by its date or by the board's run. @throws NightKeyError */
export function nightAsked(query: URLSearchParams): NightKey {
  const night = query.get('night');
  if (night !== null) {
    if (/^\d{4}-\d{2}-\d{2}$/.test(night)) return { night };
    throw new NightKeyError(`night: '${night}' is no date; write it as 2027-03-05`);
  }
  return { run: { board: query.get('board') ?? '', log: whole(query, 'log'), boot: whole(query, 'boot') } };
}

/** A number that the address has to name. @throws NightKeyError */
export function whole(query: URLSearchParams, name: string): number {
  const text = query.get(name) ?? '';
  if (/^\d{1,10}$/.test(text)) return Number(text);
  throw new NightKeyError(`${name}: '${text}' is no whole number`);
}

export function filterOf(key: NightKey): RecordFilter {
  return 'night' in key ? { night: key.night } : { run: key.run };
}

export function nightOfKey(key: NightKey): string | null {
  return 'night' in key ? key.night : null;
}
