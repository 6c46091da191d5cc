import { signal } from '@preact/signals';

/** The program on this computer that sent the page, where there is one: its version, or why it does not answer. */
export const server = signal<'none' | 'lost' | { readonly version: string }>('none');

/** Asks who is there. The token came in the address, after the '#', which no browser sends to anybody. */
export async function askServer(): Promise<void> {
  const token = location.hash.slice(1);
  if (token === '' || location.protocol === 'file:') return;
  try {
    const answer = await fetch('/api/hello', { headers: { 'treadle-token': token } });
    server.value = answer.ok ? await answer.json() : 'lost';
  } catch {
    server.value = 'lost';
  }
}
