import type { Interval } from '../reading/strip-figures.js';

/**
 * A figure with what each error would shift it by, one standard deviation of it, under the error's name. An error that two
 * figures have in common has one name in both: so it goes out of their difference, and does not get less in their mean.
 */
export interface Doubted {
  readonly value: number;
  readonly shifts: ReadonlyMap<string, number>;
}

export interface Term {
  readonly times: number;
  readonly of: Doubted;
}

/** Sums of figures; errors of one name are added with their signs. */
export function sumOf(terms: readonly Term[], plus = 0): Doubted {
  const shifts = new Map<string, number>();
  let value = plus;
  for (const { times, of } of terms) {
    value += times * of.value;
    for (const [name, shift] of of.shifts) shifts.set(name, (shifts.get(name) ?? 0) + times * shift);
  }
  return { value, shifts };
}

export function difference(one: Doubted, other: Doubted): Doubted {
  return sumOf([
    { times: 1, of: one },
    { times: -1, of: other },
  ]);
}

/** The same figure with one error more. */
export function withError(figure: Doubted, name: string, shift: number): Doubted {
  return { value: figure.value, shifts: new Map([...figure.shifts, [name, shift]]) };
}

/** One standard deviation, of all errors or of those that are asked for. */
export function deviationOf({ shifts }: Doubted, isMeant: (name: string) => boolean = () => true): number {
  return Math.hypot(...[...shifts].filter(([name]) => isMeant(name)).map(([, shift]) => shift));
}

/** 95 of 100 of a normal distribution. */
const DEVIATIONS = 1.96;

export function intervalOf(figure: Doubted): Interval {
  const half = DEVIATIONS * deviationOf(figure);
  return { value: figure.value, low: figure.value - half, high: figure.value + half };
}

/** The same on another scale: a time of its logarithm, a factor of stops. Only for functions that rise, or fall, everywhere. */
export function mapped({ value, low, high }: Interval, to: (value: number) => number): Interval {
  const [one, other] = [to(low), to(high)];
  return { value: to(value), low: Math.min(one, other), high: Math.max(one, other) };
}
