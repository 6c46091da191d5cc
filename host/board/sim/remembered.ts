/** How many edges and tones a board remembers. */
const REMEMBERED = 65_536;

/** Adds to a history; the oldest is forgotten when there are too many. */
export function remember<Item>(items: Item[], item: Item): void {
  items.push(item);
  if (items.length > REMEMBERED) items.shift();
}
