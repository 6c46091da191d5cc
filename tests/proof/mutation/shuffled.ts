import { Random } from '../../setup/random.js';

export function shuffled<Item>(items: readonly Item[], seed: number): Item[] {
  const random = new Random(seed);
  const order = [...items];
  for (let at = order.length - 1; at > 0; at--) {
    const other = random.below(at + 1);
    [order[at], order[other]] = [order[other]!, order[at]!];
  }
  return order;
}
