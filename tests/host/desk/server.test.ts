import { request as ask, Server } from 'node:http';
import { type AddressInfo, connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type DeskServer, openDeskServer } from '../../../host/desk/index.js';
import { json, type Ways } from '../../../host/desk/server/way.js';
import { InputError } from '../../../host/errors.js';
import { version } from '../../../shared-protocol/generated/versions.js';

class Refusal extends InputError {}

/** What a room of the desk may do, as the server sees it. */
const room: Ways = {
  '/api/echo': {
    POST: { mostBodyBytes: 100_000, answer: ({ body, query }) => json([body.length, query.get('as')]) },
  },
  '/api/refuse': { GET: { answer: () => Promise.reject(new Refusal("base: '0 s' is too short")) } },
  '/api/break': { GET: { answer: () => Promise.reject(new RangeError('no such row')) } },
  '/api/pieces': { GET: { answer: () => ({ type: 'text/plain', pieces: pieces(true) }) } },
  '/api/cut': { GET: { answer: () => ({ type: 'text/plain', pieces: pieces(false) }) } },
};

async function* pieces(whole: boolean): AsyncGenerator<string> {
  for (let at = 0; at < 3; at++) yield 'piece';
  if (!whole) throw new Error('the cable');
}

let server: DeskServer;
let host: string;
let token: string;
beforeAll(async () => {
  server = await openDeskServer([room]);
  const url = new URL(server.url);
  host = url.host;
  token = url.hash.slice(1);
});
afterAll(() => server.close());

interface Answer {
  readonly status: number;
  readonly headers: NodeJS.Dict<string | string[]>;
  readonly text: string;
}

interface Asked {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string;
}

/** As any program can ask: with whatever path and headers it likes. */
function send(path: string, { method = 'GET', headers = {}, body }: Asked = {}): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const request = ask(
      { host: '127.0.0.1', port: host.split(':')[1]!, path, method, headers },
      (response) => {
        let text = '';
        response.setEncoding('utf8').on('data', (piece) => {
          text += piece;
        });
        response.on('error', reject);
        response.on('end', () => resolve({ status: response.statusCode!, headers: response.headers, text }));
      },
    );
    request.on('error', reject);
    request.end(body);
  });
}

/** The status line that answers these very bytes. */
function sendBytes(text: string): Promise<string> {
  return new Promise((resolve, reject) => {
    let answer = '';
    const socket = connect(Number(host.split(':')[1]), '127.0.0.1', () => socket.write(text));
    socket.setEncoding('latin1').on('data', (piece) => {
      answer += piece;
    });
    socket.on('error', reject);
    socket.on('close', () => resolve(answer.split('\r\n')[0]!));
  });
}

const own = () => ({ 'treadle-token': token });

describe("the desk's server", () => {
  it('gives the page that was opened what it asks for', async () => {
    const { status, text } = await send('/api/hello', { headers: own() });
    expect([status, JSON.parse(text)]).toEqual([
      200,
      { version, keepsPrints: false, keepsScan: false, hasPapers: false },
    ]);
  });

  it('hands body and question to what answers, as long as that one takes', async () => {
    const headers = { ...own(), origin: `http://${host}` };
    const { text } = await send('/api/echo?as=x', { method: 'POST', headers, body: 'x'.repeat(70_000) });
    expect(JSON.parse(text)).toEqual([70_000, 'x']);
    const longer = await send('/api/echo', { method: 'POST', headers, body: 'x'.repeat(100_001) });
    expect(longer.status).toBe(413);
  });

  it('gives the words of what was refused, and never a stack', async () => {
    const refused = await send('/api/refuse', { headers: own() });
    expect([refused.status, JSON.parse(refused.text)]).toEqual([
      422,
      { message: "base: '0 s' is too short" },
    ]);
    const broken = await send('/api/break', { headers: own() });
    expect(broken.status).toBe(500);
    expect(JSON.parse(broken.text).message).toContain('no such row');
    expect(broken.text).not.toContain('.ts');
  });

  it('sends pieces as they come, and cuts off what fails in the middle', async () => {
    expect((await send('/api/pieces', { headers: own() })).text).toBe('piecepiecepiece');
    await expect(send('/api/cut', { headers: own() })).rejects.toThrow();
  });

  it('gives the page by its name and by none', async () => {
    for (const path of ['/', '/index.html']) {
      const { status, text } = await send(path);
      expect([status, text.startsWith('<!doctype html>')]).toEqual([200, true]);
    }
  });

  it('makes a token of 256 bits for every start', async () => {
    const other = await openDeskServer();
    const others = new URL(other.url).hash.slice(1);
    await other.close();
    expect(Buffer.from(token, 'base64url')).toHaveLength(32);
    expect(others).not.toBe(token);
  });

  // Headers as the Fetch and HTML standards and CSP 3 have them.
  it('says with every answer, refusals too, that nothing of it is for others', async () => {
    for (const path of ['/', '/desk.js', '/nowhere', '/api/hello']) {
      const { headers } = await send(path);
      expect(headers).toMatchObject({
        'cross-origin-opener-policy': 'same-origin',
        'cross-origin-embedder-policy': 'require-corp',
        'cross-origin-resource-policy': 'same-origin',
        'x-content-type-options': 'nosniff',
        'referrer-policy': 'no-referrer',
      });
      expect(headers['content-security-policy']).toMatch(/^default-src 'none'; .*frame-ancestors 'none'/);
      expect(headers['content-security-policy']).not.toMatch(
        /unsafe-inline|unsafe-eval(?<!wasm-unsafe-eval)/,
      );
      expect(Object.keys(headers).filter((name) => name.startsWith('access-control'))).toEqual([]);
    }
  });
});

describe('an attack is refused:', () => {
  it.each(['evil.example', 'localhost:1', '127.0.0.1', '127.0.0.1:1'])('the Host %j', async (name) => {
    const { status, text } = await send('/api/hello', { headers: { ...own(), host: name } });
    expect(status).toBe(421);
    expect(text).not.toContain(version);
  });

  it('two Hosts, and none', async () => {
    const tail = `treadle-token: ${token}\r\nConnection: close\r\n\r\n`;
    const twice = `GET /api/hello HTTP/1.1\r\nHost: ${host}\r\nHost: evil.example\r\n${tail}`;
    expect(await sendBytes(twice)).toMatch(/^HTTP\/1\.1 4/);
    expect(await sendBytes(`GET /api/hello HTTP/1.1\r\n${tail}`)).toMatch(/^HTTP\/1\.1 4/);
    expect(await sendBytes(`GET /api/hello HTTP/1.0\r\n${tail}`)).toMatch(/^HTTP\/1\.1 421/);
  });

  it.each(['http://evil.example', 'null', 'http://127.0.0.1', 'http://127.0.0.1:1', ''])(
    'the Origin %j, whatever it asks',
    async (origin) => {
      for (const method of ['GET', 'POST'])
        expect((await send('/api/hello', { method, headers: { ...own(), origin } })).status).toBe(403);
    },
  );

  it('a POST that names no Origin', async () => {
    expect((await send('/api/hello', { method: 'POST', headers: own() })).status).toBe(403);
  });

  it('no token, a wrong one, a longer one, and one in the address', async () => {
    const wrong = [
      {},
      { 'treadle-token': '' },
      { 'treadle-token': 'A'.repeat(43) },
      { 'treadle-token': `${token}A` },
    ];
    for (const headers of wrong) expect((await send('/api/hello', { headers })).status).toBe(401);
    expect((await send(`/api/hello?treadle-token=${token}`)).status).toBe(401);
    expect((await send('/api/anything-else')).status).toBe(401);
  });

  it.each([
    '/../package.json',
    '/..%2f..%2fpackage.json',
    '/%2e%2e/%2e%2e/etc/passwd',
    '//etc/passwd',
    '/./index.html',
    '/index.html/..',
    '/desk.js?x',
    'http://127.0.0.1/index.html',
    '/constructor',
    '/__proto__',
  ])('the path %s', async (path) => {
    expect((await send(path, { headers: own() })).status).toBe(404);
  });

  it('a body that is too large, whether it says so or not', async () => {
    const headers = { ...own(), origin: `http://${host}` };
    const body = 'x'.repeat(70_000);
    const told = { ...headers, 'content-length': String(body.length) };
    expect((await send('/api/hello', { method: 'POST', headers: told, body })).status).toBe(413);
    const chunked = { ...headers, 'transfer-encoding': 'chunked' };
    expect((await send('/api/hello', { method: 'POST', headers: chunked, body })).status).toBe(413);
  });

  // A minute's default of ours cut a large scan off in the middle; without any, whoever sends slowly enough stays for ever.
  it('a request that takes more than two minutes to come, and a head of more than ten seconds', () => {
    const handles = (process as unknown as { _getActiveHandles(): unknown[] })._getActiveHandles();
    const port = Number(host.split(':')[1]);
    const found = handles.find(
      (one) => one instanceof Server && (one.address() as AddressInfo).port === port,
    );
    expect(found).toMatchObject({ requestTimeout: 120_000, headersTimeout: 10_000 });
  });

  it('a method that changes something where there is nothing to change', async () => {
    const headers = { ...own(), origin: `http://${host}` };
    for (const method of ['POST', 'PUT', 'DELETE']) {
      const { status, headers: answered } = await send('/api/hello', { method, headers });
      expect([status, answered.allow]).toEqual([405, 'GET']);
    }
  });
});
