import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { TreadleError } from '../../../host/errors.js';
import type { Message } from '../../../shared-protocol/index.js';
import { Talk } from '../../host/board/link/talk.js';
import { type Lie, liesAbout, lineOf, makeHonest, type RawLine, rawOf } from './liar.js';
import { libraryCalls } from './library-calls.js';

/** No call may take longer than this, whatever is said to it (three requests that end at their last moment). */
const LONGEST_MS = 50_000;
/** More lines than any call needs to say or to hear before it knows that it is lied to. */
const MOST_REQUESTS = 60;
const MOST_HEARD = 600;

/** What the board says to a request when it is honest. */
async function honestly(call: string): Promise<{ result: unknown; lines: RawLine[] }> {
  const talk = new Talk();
  makeHonest(talk.peer);
  const board = await talk.open({ setClock: false });
  const { request, ask } = libraryCalls[call]!;
  const said: RawLine[] = [];
  let asked = 0;
  const tell = talk.peer.tell.bind(talk.peer);
  talk.peer.tell = (spoken, id) => {
    const about = talk.peer.heard.at(-1)!;
    if (about.type === request && about.id === id && asked === 0) said.push(rawOf(spoken));
    tell(spoken, id);
  };
  const hears = talk.peer.answer;
  talk.peer.answer = (message) => {
    if (message.type === request && said.length > 0) asked++;
    return hears(message);
  };
  const result = await talk.over(ask(board));
  await board.close();
  return { result, lines: said };
}

interface Outcome {
  readonly result?: unknown;
  readonly error?: unknown;
  readonly tookMs: number;
  readonly requests: number;
  readonly told: number;
}

/** The call to a board that tells this lie about its request, and the truth about all others. */
async function lyingly(call: string, { lines, idOff = 0, endless, cut = 0 }: Lie): Promise<Outcome> {
  const talk = new Talk();
  makeHonest(talk.peer);
  const board = await talk.open({ setClock: false });
  const { request, ask } = libraryCalls[call]!;
  const honest = talk.peer.answer;
  const startMs = talk.clock.nowMs();
  const before = talk.peer.heard.length;
  let told = 0;
  let over = false;
  const say = (message: Message) => {
    for (const line of lines) {
      const text = lineOf(line, message.id + idOff);
      talk.peer.say(cut === 1 ? text.slice(0, -1) : cut === 0 ? text : `${text.slice(0, -cut)}\n`);
      told++;
    }
    if (endless && !over) talk.clock.after(1, () => say(message));
  };
  talk.peer.answer = (message) => {
    if (message.type !== request) return honest(message);
    say(message);
    return [];
  };
  const came = await talk.over(ask(board)).then(
    (result) => ({ result }),
    (error: unknown) => ({ error }),
  );
  over = true;
  const tookMs = talk.clock.nowMs() - startMs;
  await board.close();
  return { ...came, tookMs, requests: talk.peer.heard.length - before, told };
}

function expectBounded({ error, tookMs, requests }: Outcome, story: string): void {
  if (error !== undefined) expect(error, story).toBeInstanceOf(TreadleError);
  expect(tookMs, story).toBeLessThan(LONGEST_MS);
  expect(requests, story).toBeLessThan(MOST_REQUESTS);
}

describe('a board that lies about an answer', () => {
  it.each(Object.keys(libraryCalls))('is found out or does no harm: %s', async (call) => {
    const { result, lines } = await honestly(call);
    for (const lie of liesAbout(libraryCalls[call]!.request, lines)) {
      const outcome = await lyingly(call, lie);
      expectBounded(outcome, lie.name);
      if (!lie.endless) expect(outcome.told, lie.name).toBeLessThan(MOST_HEARD);
      if (lie.name.endsWith('in its place') || lie.idOff) expect(outcome.error, lie.name).toBeDefined();
      if (lie.harmless && outcome.error === undefined) expect(outcome.result, lie.name).toEqual(result);
    }
  });
});

interface Case {
  readonly story: string;
  readonly call: string;
  readonly says: readonly (readonly [type: string, ...fields: unknown[]])[];
  /** The error's name, or 'no harm'. */
  readonly ends: string;
}

const corpus = join(import.meta.dirname, 'corpus');

describe('attacks of before', () => {
  it.each(readdirSync(corpus))('%s', async (name) => {
    const attack = JSON.parse(readFileSync(join(corpus, name), 'utf8')) as Case;
    const lines = attack.says.map(([type, ...fields]) => ({ type, fields }));
    const outcome = await lyingly(attack.call, { name, lines });
    expectBounded(outcome, attack.story);
    expect((outcome.error as Error | undefined)?.name ?? 'no harm', attack.story).toBe(attack.ends);
  });
});
