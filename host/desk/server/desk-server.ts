import { randomBytes } from 'node:crypto';
import { once } from 'node:events';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { type Answers, answersWith } from './answers.js';
import { bodyOf, MOST_BODY_BYTES } from './body.js';
import { type Gate, refusalOf } from './gate.js';
import { answerHeaders } from './headers.js';
import { readPageFiles } from './page-files.js';

const LOOPBACK = '127.0.0.1';
const TOKEN_BYTES = 32;
/** A request that takes longer than this to arrive is none of the page's. */
const SLOWEST_MS = 10_000;
const MOST_CONNECTIONS = 64;

/** The desk's server while it runs. */
export interface DeskServer {
  /** The page's address, with the token where no request carries it: in the fragment. */
  readonly url: string;
  close(): Promise<void>;
}

/** Starts the server on this computer's own address, at a port that is free. @throws FileAccessError */
export async function openDeskServer(): Promise<DeskServer> {
  const answers = answersWith(await readPageFiles());
  const token = randomBytes(TOKEN_BYTES).toString('base64url');
  const server = createServer({ requestTimeout: SLOWEST_MS, headersTimeout: SLOWEST_MS });
  server.maxConnections = MOST_CONNECTIONS;
  server.listen(0, LOOPBACK);
  await once(server, 'listening');
  const host = `${LOOPBACK}:${(server.address() as AddressInfo).port}`;
  server.on('request', (request, response) => void answer(request, response, answers, { host, token }));
  return { url: `http://${host}/#${token}`, close: () => close(server) };
}

async function answer(
  request: IncomingMessage,
  response: ServerResponse,
  answers: Answers,
  gate: Gate,
): Promise<void> {
  for (const [name, value] of Object.entries(answerHeaders)) response.setHeader(name, value);
  const refusal = refusalOf(request, gate);
  if (refusal !== undefined) return refuse(request, response, refusal.status, refusal.why);
  const body = await bodyOf(request).catch(() => undefined);
  if (body === undefined)
    return refuse(request, response, 413, `at most ${MOST_BODY_BYTES} bytes are taken in one request`);
  const methods = answers.get(request.url ?? '');
  if (methods === undefined) return refuse(request, response, 404, 'there is nothing here');
  const found = methods[request.method ?? ''];
  if (found === undefined) {
    response.setHeader('allow', Object.keys(methods).join(', '));
    return refuse(request, response, 405, 'that cannot be done with this');
  }
  const { type, bytes } = found();
  response.setHeader('content-type', type);
  response.end(bytes);
}

/** Says why, and lets the connection go: whatever else was on its way in is not read. */
function refuse(request: IncomingMessage, response: ServerResponse, status: number, why: string): void {
  response.statusCode = status;
  response.setHeader('content-type', 'text/plain; charset=utf-8');
  response.setHeader('connection', 'close');
  response.end(`${why}\n`, () => request.socket.destroySoon());
}

async function close(server: Server): Promise<void> {
  const closed = once(server, 'close');
  server.close();
  server.closeAllConnections();
  await closed;
}
