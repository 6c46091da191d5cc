import { version } from '../../../shared-protocol/generated/versions.js';
import type { PageFile } from './page-files.js';
import { json, type Way, type Ways } from './way.js';

/** By path, then by method. */
export type Answers = ReadonlyMap<string, Readonly<Record<string, Way>>>;

/** Everything that this server answers: a fixed list, so that no path can lead anywhere else. */
export function answersWith(files: readonly PageFile[], rooms: readonly Ways[]): Answers {
  const answers = new Map<string, Readonly<Record<string, Way>>>();
  for (const { name, type, bytes } of files)
    answers.set(`/${name}`, { GET: { answer: () => ({ type, bytes }) } });
  answers.set('/', answers.get('/index.html')!);
  for (const room of rooms) for (const [path, methods] of Object.entries(room)) answers.set(path, methods);
  const keepsScan = answers.get('/api/scan')?.GET !== undefined;
  const has = (path: string) => answers.has(path);
  const hello = { version, keepsPrints: has('/api/prints'), keepsScan, hasPapers: has('/api/papers') };
  answers.set('/api/hello', { GET: { answer: () => json(hello) } });
  return answers;
}
