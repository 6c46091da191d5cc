import { UsageError } from '../usage-error.js';

/** One thing that `--set` may change. */
export interface Settable<Value> {
  /** What it may be called, the shortest first; the last is its alone. */
  readonly names: readonly string[];
  /** @throws UnreadableText or InputError with words for people */
  set(answer: string): Value;
}

/**
 * The one that is called so; capitals, blanks and hyphens do not count.
 * @throws UsageError that lists the names
 */
export function settableNamed<Value>(all: readonly Settable<Value>[], name: string): Settable<Value> {
  const wanted = plain(name);
  const found = all.filter(({ names }) => names.some((each) => plain(each) === wanted));
  const [one, ...others] = found;
  if (one === undefined)
    throw new UsageError(
      `there is nothing called '${name}'; there are ${all.map(({ names }) => names[0]).join(', ')}`,
    );
  if (others.length > 0)
    throw new UsageError(
      `'${name}' could be ${found.map(({ names }) => names.at(-1)).join(' or ')}; say which`,
    );
  return one;
}

function plain(name: string): string {
  return name.toLowerCase().replace(/[\s_-]/g, '');
}

/** Those of them that nothing in `before` is called: a field goes before an area of its name. */
export function notCalledAs<Value>(
  before: readonly Settable<Value>[],
  all: readonly Settable<Value>[],
): Settable<Value>[] {
  const taken = new Set(before.flatMap(({ names }) => names.map(plain)));
  return all.map((each) => ({ ...each, names: each.names.filter((name) => !taken.has(plain(name))) }));
}
