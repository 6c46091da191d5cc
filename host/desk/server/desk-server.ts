import { randomBytes } from 'node:crypto';
import { once } from 'node:events';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { pipeline } from 'node:stream/promises';
import { type Answers, answersWith } from './answers.js';
import { bodyOf, MOST_BODY_BYTES } from './body.js';
import { bodyFileOf } from './body-file.js';
import { failureOf } from './failure.js';
import { type Gate, refusalOf } from './gate.js';
import { answerHeaders } from './headers.js';
import { readPageFiles } from './page-files.js';
import type { Answer, Asked, Ways } from './way.js';

const LOOPBACK = '127.0.0.1';
const TOKEN_BYTES = 32;
/** A request that takes longer than this to arrive is none of the page's. */
const SLOWEST_MS = 120_000;
const SLOWEST_HEAD_MS = 10_000;
const MOST_CONNECTIONS = 64;

/** The desk's server while it runs. */
export interface DeskServer {
  /** The page's address, with the token where no request carries it: in the fragment. */
  readonly url: string;
  close(): Promise<void>;
}

/**
 * Starts the server on this computer's own address, at a port that is free.
 * @param rooms what can be asked besides the page itself.
 * @throws FileAccessError
 */
export async function openDeskServer(rooms: readonly Ways[] = []): Promise<DeskServer> {
  const answers = answersWith(await readPageFiles(), rooms);
  const token = randomBytes(TOKEN_BYTES).toString('base64url');
  const server = createServer({ requestTimeout: SLOWEST_MS, headersTimeout: SLOWEST_HEAD_MS });
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
  const { path, query } = addressOf(request.url ?? '');
  const methods = answers.get(path);
  const way = methods?.[request.method ?? ''];
  const most = way?.mostBodyBytes ?? MOST_BODY_BYTES;
  const brought = await bringBody(request, most, way?.bodyIn === 'file').catch((error: unknown) => {
    response.setHeader('connection', 'close');
    fail(response, error);
  });
  if (response.writableEnded || response.destroyed) return void (await brought?.forget?.());
  if (brought === undefined)
    return refuse(request, response, 413, `at most ${most} bytes are taken in one request`);
  if (methods === undefined) return refuse(request, response, 404, 'there is nothing here');
  if (way === undefined) {
    response.setHeader('allow', Object.keys(methods).join(', '));
    return refuse(request, response, 405, 'that cannot be done with this');
  }
  const gone = new AbortController();
  response.on('close', () => gone.abort());
  try {
    const ask = async () => way.answer({ ...brought.asked, query, gone: gone.signal });
    await send(response, await ask().finally(brought.forget));
  } catch (error) {
    fail(response, error);
  }
}

interface Brought {
  readonly asked: Pick<Asked, 'body' | 'file'>;
  readonly forget?: () => Promise<void>;
}

async function bringBody(
  request: IncomingMessage,
  most: number,
  toDisk: boolean,
): Promise<Brought | undefined> {
  if (!toDisk) {
    const body = await bodyOf(request, most).catch(() => undefined);
    return body && { asked: { body } };
  }
  const file = await bodyFileOf(request, most);
  return file && { asked: { body: new Uint8Array(), file: file.path }, forget: file.forget };
}

/** A '?' leads to questions alone: a file of the page has one name. */
function addressOf(url: string): { path: string; query: URLSearchParams } {
  const at = url.startsWith('/api/') ? url.indexOf('?') : -1;
  if (at < 0) return { path: url, query: new URLSearchParams() };
  return { path: url.slice(0, at), query: new URLSearchParams(url.slice(at + 1)) };
}

async function send(response: ServerResponse, answer: Answer): Promise<void> {
  response.setHeader('content-type', answer.type);
  if ('bytes' in answer) response.end(answer.bytes);
  else await pipeline(answer.pieces, response);
}

/** What went wrong, in words for the person at the page. An answer that had begun is cut off, so that it is no whole one. */
function fail(response: ServerResponse, error: unknown): void {
  if (response.headersSent || response.destroyed) return void response.destroy();
  const { status, message } = failureOf(error);
  response.statusCode = status;
  response.setHeader('content-type', 'application/json');
  response.end(JSON.stringify({ message }));
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
