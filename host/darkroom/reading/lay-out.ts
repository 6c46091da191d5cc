import type { PatchPlace } from './patch-tones.js';

/** Steps of density between neighbours: the place of a small one is seen less surely, and a great one is left out by few strips. */
const SEEN_STEPS = [0.02, 0.03, 0.045, 0.07];
/** One deviation of an edge that a hand or a jig laid, as a share of a patch's width; common practice, no source. */
const HAND_SHARE = 0.06;
/** The same of where the paper's white ends, which is seen by the frame alone. */
const FRAME_SHARE = 0.09;
/** Another number is believed when it is likelier than the one that was told by this much, as -2 times the logarithm: seven to one. */
const LIKELIER = 4;
/** So many times as wide as it was taken for a patch may be. */
const WIDTHS = { least: 0.4, most: 2.5, finer: 1.01 } as const;
/** So many patches of the white end may have been taken from the border. */
const MOST_WHITE_LOST = 2;

/**
 * Whether the edges that can be seen lie as those of fewer patches would, or of more. Patches are laid side by side in even widths; where
 * neighbours are alike, all white or all black, no edge tells how many there are, and the width of the others does.
 * @param places in a picture that begins at 0, lightest first.
 * @param densities above white, of as many patches as `places`.
 */
export function patchesHeld(
  places: readonly PatchPlace[],
  densities: readonly number[],
): 'as told' | 'fewer' | 'more' {
  const held = SEEN_STEPS.map((step) => heldBy(step, places, densities));
  return held.find((each) => each !== 'as told') ?? 'as told';
}

function heldBy(seenStep: number, places: readonly PatchPlace[], densities: readonly number[]) {
  const seen = densities.flatMap((density, at) =>
    density - (densities[at - 1] ?? 0) >= seenStep ? [at] : [],
  );
  if (seen.length === 0) return 'as told';
  const edges = [...seen.map((at) => places[at]!.left), places.at(-1)!.right];
  const told = {
    counts: [...seen.slice(1), places.length].map((at, index) => at - seen[index]!),
    white: seen[0]!,
  };
  const asTold = fitted(edges, told);
  const others = othersThan(edges, told, asTold.width).map((other) => ({ other, ...fitted(edges, other) }));
  const best = others.reduce((least, each) => (each.squares < least.squares ? each : least));
  if (asTold.squares - best.squares <= LIKELIER) return 'as told';
  return patchesOf(best.other) < places.length ? 'fewer' : 'more';
}

/** How many patches lie before the first edge that is seen, and from each to the next. */
interface LayOut {
  readonly white: number;
  readonly counts: readonly number[];
}

function patchesOf({ white, counts }: LayOut): number {
  return white + sum(counts);
}

/** All of another number that go with any width. More at the white end nobody could tell from a border. */
function othersThan(edges: readonly number[], told: LayOut, width: number): LayOut[] {
  const gaps = edges.slice(1).map((edge, at) => edge - edges[at]!);
  const found = new Map<string, LayOut>();
  for (let times = WIDTHS.least; times <= WIDTHS.most; times *= WIDTHS.finer) {
    const counts = gaps.map((gap) => Math.max(1, Math.round(gap / (times * width))));
    for (let lost = 0; lost <= Math.min(MOST_WHITE_LOST, told.white); lost++) {
      const other = { counts, white: told.white - lost };
      if (patchesOf(other) !== patchesOf(told)) found.set(`${counts} ${lost}`, other);
    }
  }
  return [...found.values()];
}

/** Even widths that go best with these edges: the squares of what each misses them by, in deviations. */
function fitted(edges: readonly number[], { counts, white }: LayOut): { width: number; squares: number } {
  const numbers = edges.map((_, at) => sum(counts.slice(0, at)));
  const [middleNumber, middleEdge] = [mean(numbers), mean(edges)];
  const width =
    sum(numbers.map((number, at) => (number - middleNumber) * (edges[at]! - middleEdge))) /
    sum(numbers.map((number) => (number - middleNumber) ** 2));
  const start = middleEdge - width * middleNumber;
  const misses = edges.map((edge, at) => (edge - start - width * numbers[at]!) / (HAND_SHARE * width));
  // The white end begins somewhere in the frame, and not before it.
  const beyond = Math.max(0, white * width - start) / (FRAME_SHARE * width);
  return { width, squares: sum(misses.map((miss) => miss ** 2)) + beyond ** 2 };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function mean(values: readonly number[]): number {
  return sum(values) / values.length;
}
