/** Everything that comes, as a list. */
export async function listOf<Item>(items: AsyncIterable<Item>): Promise<Item[]> {
  const list: Item[] = [];
  for await (const item of items) list.push(item);
  return list;
}
