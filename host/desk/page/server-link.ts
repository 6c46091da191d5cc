import { signal } from '@preact/signals';

/** What the server says of itself. */
interface Hello {
  readonly version: string;
  /** It has an archive and a folder for recipes. */
  readonly keepsPrints: boolean;
  /** It has the scan that lay on the desk when it was left. */
  readonly keepsScan: boolean;
  /** It has an archive in which what was measured of papers is kept. */
  readonly hasPapers: boolean;
}

/** The program on this computer that sent the page, where there is one: what it says, or why it does not answer. */
export const server = signal<'none' | 'lost' | Hello>('none');

/** Refused by the server, in its words, or not answered by it. */
export class NotDoneError extends Error {
  override readonly name = 'NotDoneError';
}

/** Whether a server sent this page: a page opened from a folder has none. */
export function hasServer(): boolean {
  return token !== '' && location.protocol !== 'file:';
}

/** Asks who is there. */
export async function askServer(): Promise<void> {
  if (!hasServer()) return;
  try {
    server.value = await ask<Hello>('/api/hello');
  } catch {
    server.value = 'lost';
  }
}

/** Asks the server, with what is to be posted where there is something. @throws NotDoneError */
export async function ask<T>(path: string, posted?: unknown): Promise<T> {
  const asked = posted === undefined ? {} : { method: 'POST', body: JSON.stringify(posted) };
  return (await (await answerTo(path, asked)).json()) as T;
}

/** Asks for something that is no JSON, or posts it, or goes on reading. @throws NotDoneError */
export async function answerTo(path: string, asked: RequestInit): Promise<Response> {
  const answer = await fetch(path, { ...asked, headers: { 'treadle-token': token } }).catch(() => {
    server.value = 'lost';
    throw new NotDoneError("Treadle does not answer: run 'treadle desk' again.");
  });
  if (!answer.ok) throw new NotDoneError(await wordsOf(answer));
  return answer;
}

async function wordsOf(answer: Response): Promise<string> {
  const text = await answer.text();
  if (answer.headers.get('content-type') !== 'application/json') return text.trim();
  return (JSON.parse(text) as { message: string }).message;
}

/** It came in the address, after the '#', which no browser sends to anybody. */
const token = location.hash.slice(1);
