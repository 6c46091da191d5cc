/** What differs between two recipes as far as a print shows it, in a printer's words: 'burn sky +1/2 -> +1'. */
import { seconds } from '../figures.js';
import type { BoardDodge, BoardPass, BoardRecipe } from './board-recipe.js';
import { formatAperture10 } from './text/aperture-text.js';
import { formatDryDown10 } from './text/dry-down-text.js';
import { formatStops } from './text/stop-text.js';

/** A line for each thing that differs; none where the two make the same print. Names and versions are passed over. */
export function recipeDifferences(from: BoardRecipe, to: BoardRecipe): string[] {
  const before = passesByWords(from.passes);
  const now = passesByWords(to.passes);
  return [
    ...textDifferences(from, to),
    ...changed('base', seconds(from.baseMs), seconds(to.baseMs)),
    ...changed('aperture', told(from.aperture10, formatAperture10), told(to.aperture10, formatAperture10)),
    ...changed('magnification', told(from.magnification1000, times), told(to.magnification1000, times)),
    ...changed('dry-down', formatDryDown10(from.dryDown10), formatDryDown10(to.dryDown10)),
    ...[...before].flatMap(([words, pass]) => passDifferences(words, pass, now.get(words))),
    ...[...now]
      .filter(([words]) => !before.has(words))
      .map(([words, pass]) => `${wholePass(words, pass)} added`),
    ...orderDifference(before, now),
  ];
}

function textDifferences(from: BoardRecipe, to: BoardRecipe): string[] {
  return (['title', 'negative', 'paper'] as const).flatMap((field) =>
    changed(field, `'${from[field]}'`, `'${to[field]}'`),
  );
}

function passDifferences(words: string, from: BoardPass, to: BoardPass | undefined): string[] {
  if (to === undefined) return [`${wholePass(words, from)} taken away`];
  return [
    ...changed(words, formatStops(from.stops120), formatStops(to.stops120)),
    ...changed(`filter of ${words}`, from.filter || 'none', to.filter || 'none'),
    ...dodgeDifferences(words, from.dodges, to.dodges),
  ];
}

function dodgeDifferences(pass: string, from: readonly BoardDodge[], to: readonly BoardDodge[]): string[] {
  const [before, now] = [byWords(from, dodgeWords), byWords(to, dodgeWords)];
  const whole = (words: string, { stops120 }: BoardDodge) => `${words} ${formatStops(stops120)} of ${pass}`;
  return [
    ...[...before].flatMap(([words, dodge]) => {
      const then = now.get(words);
      return then === undefined
        ? [`${whole(words, dodge)} taken away`]
        : changed(words, formatStops(dodge.stops120), formatStops(then.stops120));
    }),
    ...[...now]
      .filter(([words]) => !before.has(words))
      .map(([words, dodge]) => `${whole(words, dodge)} added`),
    ...orderDifference(before, now),
  ];
}

/** Of those that both have. */
function orderDifference(before: ReadonlyMap<string, unknown>, now: ReadonlyMap<string, unknown>): string[] {
  const then = [...before.keys()].filter((words) => now.has(words));
  const since = [...now.keys()].filter((words) => before.has(words));
  return changed('order', then.join(', '), since.join(', '));
}

/** 'base 12.500 s -> 14.000 s', if it is. */
export function changed(what: string, from: string, to: string): string[] {
  return from === to ? [] : [`${what} ${from} -> ${to}`];
}

function wholePass(words: string, { stops120 }: BoardPass): string {
  return `${words} ${formatStops(stops120)}`;
}

/** 'burn sky', 'base soft', or 'base pass' where it bears no name of its own. */
export function passWords({ kind, label }: Pick<BoardPass, 'kind' | 'label'>): string {
  return kind === 'base' && (label === '' || label === 'base') ? 'base pass' : `${kind} ${label}`;
}

function passesByWords(passes: readonly BoardPass[]): Map<string, BoardPass> {
  return byWords(passes, passWords);
}

function dodgeWords({ label }: BoardDodge): string {
  return `dodge ${label}`;
}

/** By what each is called; of those that are called alike, the later ones are counted. */
export function byWords<Named>(list: readonly Named[], wordsOf: (one: Named) => string): Map<string, Named> {
  const named = new Map<string, Named>();
  for (const one of list) {
    const words = wordsOf(one);
    let key = words;
    for (let nth = 2; named.has(key); nth++) key = `${words} (${nth})`;
    named.set(key, one);
  }
  return named;
}

/** Fields that are 0 where nothing was said. */
export function told(value: number, words: (value: number) => string): string {
  return value === 0 ? 'not told' : words(value);
}

function times(magnification1000: number): string {
  return `${magnification1000 / 1000} x`;
}
