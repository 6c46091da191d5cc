import { describe, expect, it } from 'vitest';
import { decodeLine, encodeLine, type Message } from '../../../../shared-protocol/index.js';
import { LaptopAndBoard } from './laptop.js';

/** What the board answers to these lines. */
function answers(pair: LaptopAndBoard, ...requests: readonly Message[]): Message[] {
  const cable = pair.board.plug();
  for (const request of requests) cable.write(encodeLine(request));
  pair.board.advanceUs(1_000_000);
  const lines = String(cable.read() ?? '')
    .split('\n')
    .slice(0, -1);
  return lines.map((line) => {
    const decoded = decodeLine(line);
    if (!decoded.ok) throw new Error(`${decoded.why}: ${line}`);
    return decoded.message;
  });
}

const hello = (schemaHash: string, protocol = 1): Message => ({
  type: 'hello',
  id: 1,
  protocol,
  schemaHash,
  hostVersion: '9.9.9',
});

describe('a board that meets a laptop of another version', () => {
  it.each([
    ['another schema', hello('00000000')],
    ['another protocol', hello('00000000', 7)],
  ])('says who it is and gives its log, and refuses the rest: %s', (_, greeting) => {
    const pair = new LaptopAndBoard();
    pair.board.advanceUs(1_000_000);
    const heard = answers(
      pair,
      greeting,
      { type: 'ping', id: 2 },
      { type: 'choose', id: 3, job: 'strip', name: '' },
      { type: 'collect', id: 4, fromSeq: 0, count: 64 },
      { type: 'forget', id: 5, uptoSeq: 1 },
    );
    expect(heard.map(({ id, type }) => `${id} ${type}`)).toEqual([
      '1 welcome',
      '2 error',
      '3 error',
      '4 started',
      '4 collected',
      '5 ok',
    ]);
    expect(heard[1]).toMatchObject({ code: 'not-allowed' });
    expect(pair.board.lampEdges).toEqual([]);
  });

  // Protocol 1 called it 'pull': its laptop is told both versions by the welcome, and to update by its own words.
  it('does not know the requests of an older protocol by their former names, and says so', () => {
    const pair = new LaptopAndBoard();
    const cable = pair.board.plug();
    cable.write(encodeLine(hello('00000000', 1)));
    cable.write(encodeLine({ type: 'collect', id: 2, fromSeq: 1, count: 64 }, 1));
    pair.board.advanceUs(1_000_000);
    const lines = String(cable.read()).split('\n');
    expect(lines[0]).toMatch(/^\["welcome",1,2,/);
    expect(lines[1]).toMatch(/^\["error",2,"unknown-type",/);
  });

  it('answers nothing but hello, pull and forget before a hello', () => {
    const heard = answers(new LaptopAndBoard(), { type: 'ping', id: 2 });
    expect(heard).toMatchObject([{ type: 'error', code: 'not-allowed', text: 'say hello first' }]);
  });
});
