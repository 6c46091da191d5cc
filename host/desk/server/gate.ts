import { createHash, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';

/** Who may ask: decided here alone, before anything else of a request is looked at. */
export interface Gate {
  /** Host and port as this server's own page names them. */
  readonly host: string;
  /** Made at launch, known to the page that was opened and to nobody else. */
  readonly token: string;
}

/** The header that carries the token: a page of another origin cannot send it without being asked first. */
export const TOKEN_HEADER = 'treadle-token';

export interface Refusal {
  readonly status: 401 | 403 | 421;
  readonly why: string;
}

/**
 * Why a request is refused, or undefined. Every page that the browser shows, and every program here, can reach a
 * server on 127.0.0.1: a name of somebody's own that leads here is known by its Host (RFC 9110, 7.2 and 15.5.20),
 * another page's request by its Origin (RFC 6454), and whoever was not handed the address has no token.
 */
export function refusalOf(request: IncomingMessage, { host, token }: Gate): Refusal | undefined {
  const { host: hosts, origin: origins } = request.headersDistinct;
  if (hosts?.length !== 1 || hosts[0] !== host)
    return { status: 421, why: 'this server answers to its own address alone' };
  const wanted = origins !== undefined || !reads(request);
  if (wanted && (origins?.length !== 1 || origins[0] !== `http://${host}`))
    return { status: 403, why: "only the desk's own page may ask that" };
  if (request.url?.startsWith('/api/') && !isToken(request.headersDistinct[TOKEN_HEADER], token))
    return { status: 401, why: "open the desk by the address that 'treadle desk' gave" };
}

/** Methods that change nothing; browsers send no Origin with them from the page itself. */
function reads({ method }: IncomingMessage): boolean {
  return method === 'GET' || method === 'HEAD';
}

/** In a time that tells nothing of how much was right. */
function isToken(given: readonly string[] | undefined, token: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return given?.length === 1 && timingSafeEqual(digest(given[0]!), digest(token));
}
