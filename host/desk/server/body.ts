import type { IncomingMessage } from 'node:http';

/** More than the page has to say, scans aside. */
export const MOST_BODY_BYTES = 65_536;

/** What a request brings, or undefined where that is more than allowed: then no more of it is read. */
export async function bodyOf(request: IncomingMessage, mostBytes: number): Promise<Uint8Array | undefined> {
  if (Number(request.headers['content-length'] ?? 0) > mostBytes) return undefined;
  const chunks: Buffer[] = [];
  let bytes = 0;
  // The connection is left whole, so that a refusal can still be sent.
  for await (const chunk of request.iterator({ destroyOnReturn: false })) {
    bytes += chunk.length;
    if (bytes > mostBytes) return undefined;
    chunks.push(chunk);
  }
  return Buffer.concat(chunks);
}
