import { stat } from 'node:fs/promises';

/** Whether two paths lead to one file, by its number on its disk; false where one leads to none. */
export async function isSameFile(one: string, other: string): Promise<boolean> {
  const [first, second] = await Promise.all([one, other].map(numberAt));
  return first !== undefined && first === second;
}

async function numberAt(path: string): Promise<string | undefined> {
  const there = await stat(path, { bigint: true }).catch(() => undefined);
  return there && `${there.dev}:${there.ino}`;
}
