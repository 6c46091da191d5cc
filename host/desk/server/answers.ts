import { version } from '../../../shared-protocol/generated/versions.js';
import type { PageFile } from './page-files.js';

/** What is sent for a request that was let through. */
export interface Answer {
  readonly type: string;
  readonly bytes: Uint8Array | string;
}

/** By path, then by method. */
export type Answers = ReadonlyMap<string, Readonly<Record<string, () => Answer>>>;

/** Everything that this server answers: a fixed list, so that no path can lead anywhere else. */
export function answersWith(files: readonly PageFile[]): Answers {
  const answers = new Map<string, Record<string, () => Answer>>();
  for (const { name, type, bytes } of files) answers.set(`/${name}`, { GET: () => ({ type, bytes }) });
  answers.set('/', answers.get('/index.html')!);
  answers.set('/api/hello', { GET: () => json({ version }) });
  return answers;
}

function json(value: unknown): Answer {
  return { type: 'application/json', bytes: JSON.stringify(value) };
}
