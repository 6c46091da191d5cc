/** What comes one after another, as a list. */
export async function listOfAll<One>(all: AsyncIterable<One>): Promise<One[]> {
  const list: One[] = [];
  for await (const one of all) list.push(one);
  return list;
}
