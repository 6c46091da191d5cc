import { beforeEach, describe, expect, it } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import {
  encodeLine,
  type Message,
  messages,
  messageTypes,
  protocolVersion,
  schemaHash,
  settings,
} from '../../../../shared-protocol/index.js';
import { projectVersion as version } from '../../../../shared-protocol/project.js';
import { Conversation, readAll, recipeUpload, sealed } from './conversation.js';

const someBath = {
  ...{ resinCoatedSeconds: 60, fibreSeconds: 60, drainSeconds: 0, agitationSeconds: 0, limitCm2: 0 },
};
let board: Conversation;
beforeEach(() => {
  board = new Conversation();
});

describe('hello', () => {
  it('is answered with who the board is and what it speaks', () => {
    expect(board.hello(7)).toMatchObject([
      {
        type: 'welcome',
        id: 7,
        protocol: protocolVersion,
        schemaHash,
        firmwareVersion: version,
        boardId: '0102030405060708',
        boot: 1,
      },
    ]);
  });

  it('counts the boots', () => {
    const again = new Conversation(board.flash);
    expect(again.hello()).toMatchObject([{ boot: 2 }]);
  });

  // The answer of an old conversation came in the new one, under a number that the laptop had given anew.
  it('leaves nothing of the old conversation to be answered in the new one', () => {
    board.hello();
    board.raw(encodeLine({ type: 'set-setting', id: 9, name: 'lamp-lag-ms', value: 120 }));
    board.raw(encodeLine({ type: 'bath-set', id: 10, bath: 1, baths: 2, label: 'a', ...someBath }));
    const greeting = {
      type: 'hello',
      id: 1,
      protocol: protocolVersion,
      schemaHash,
      hostVersion: 'x',
    } as const;
    expect(readAll(board.raw(encodeLine(greeting)))).toMatchObject([{ type: 'welcome' }]);
    expect(board.later()).toEqual([]);
    expect(board.say({ type: 'get-setting', id: 9, name: 'lamp-lag-ms' })).toMatchObject([{ value: 120 }]);
    expect(board.say({ type: 'bath-set', id: 11, bath: 2, baths: 2, label: 'b', ...someBath })).toMatchObject(
      [{ type: 'error', text: 'they are sent in order, from the first' }],
    );
  });

  it('must come first: other requests are refused until then', () => {
    expect(board.say({ type: 'ping', id: 2 })).toMatchObject([
      { type: 'error', id: 2, code: 'not-allowed', text: 'say hello first' },
    ]);
  });

  it.each([
    ['another schema', { protocol: protocolVersion, schemaHash: '00000000' }],
    ['another protocol', { protocol: protocolVersion + 1, schemaHash }],
  ])('of %s leaves the log readable and nothing else', (_, versions) => {
    expect(board.say({ type: 'hello', id: 1, hostVersion: 'x', ...versions })).toMatchObject([
      { type: 'welcome' },
    ]);
    expect(board.say({ type: 'collect', id: 2, fromSeq: 1, count: 5 }).at(-1)).toMatchObject({
      type: 'collected',
    });
    expect(board.say({ type: 'ping', id: 3 })).toMatchObject([
      { code: 'not-allowed', text: /versions differ/ },
    ]);
  });
});

describe('every request', () => {
  beforeEach(() => {
    board.hello();
  });

  it('of a type that the board only says itself is refused', () => {
    for (const type of messageTypes.filter((name) => messages[name].role !== 'request')) {
      const answer = readAll(board.raw(sealed(`["${type}",9`)));
      expect(answer, type).toMatchObject([{ type: 'error', id: 9, code: 'not-allowed' }]);
    }
  });

  it('of an unknown type is answered as such, under its id', () => {
    expect(readAll(board.raw(sealed('["nonsense",77,1,"x"')))).toMatchObject([
      { type: 'error', id: 77, code: 'unknown-type' },
    ]);
  });

  it.each([
    ['with a wrong checksum', '["ping",5,"00000000"]\n', 'bad-crc'],
    ['that is no line', 'hello there\n', 'bad-line'],
    ['with an upper-case checksum', `${sealed('["ping",5').toUpperCase()}`, 'bad-line'],
    ['longer than a line may be', `["ping",5,${'0'.repeat(300)}\n`, 'bad-line'],
    ['with id 0', sealed('["ping",0'), 'bad-line'],
  ])('%s is refused, and the next one is heard', (_, bytes, code) => {
    expect(readAll(board.raw(bytes))).toMatchObject([{ type: 'error', id: 0, code }]);
    expect(board.say({ type: 'ping', id: 6 })).toMatchObject([{ type: 'status', id: 6 }]);
  });

  it('with a field out of range names the field and the range', () => {
    expect(readAll(board.raw(sealed('["collect",5,1,65')))).toMatchObject([
      { type: 'error', id: 5, code: 'bad-field', field: 2, low: 1, high: 64 },
    ]);
  });

  it('may end in CR LF, and empty lines say nothing', () => {
    const line = encodeLine({ type: 'ping', id: 8 }).replace('\n', '\r\n');
    expect(readAll(board.raw(`\n\r\n${line}`))).toMatchObject([{ type: 'status', id: 8 }]);
  });

  it('that comes again is answered from memory and not carried out twice', () => {
    const setting: Message = { type: 'set-setting', id: 20, name: 'focus-limit-s', value: 60 };
    const first = board.say(setting);
    board.say({ type: 'set-setting', id: 21, name: 'focus-limit-s', value: 90 });
    const operations = board.flash.operations;
    expect(board.say(setting)).toEqual(first);
    expect(board.flash.operations).toBe(operations);
    expect(board.say({ type: 'get-setting', id: 22, name: 'focus-limit-s' })).toMatchObject([{ value: 90 }]);
  });

  it('that comes again while the flash is written gets one answer, when it is done', () => {
    const line = encodeLine({ type: 'set-setting', id: 20, name: 'focus-limit-s', value: 60 });
    expect(board.raw(line)).toBe('');
    expect(board.raw(line)).toBe('');
    board.settle();
    expect(board.say({ type: 'diagnose', id: 21 })).toMatchObject([{ type: 'counters', repeats: 1 }]);
    expect(readAll(board.raw(line))).toMatchObject([{ type: 'setting', id: 20, value: 60 }]);
  });

  it('is remembered through any amount of noise', () => {
    const parts = recipeUpload('slipway', 10_000);
    const answers = parts.map((message) => board.say(message));
    for (let noise = 0; noise < 20; noise++) board.raw(`noise ${noise}\n`);
    expect(board.say(parts.at(-1)!)).toEqual(answers.at(-1));
  });

  it('with an id used before but another content is a new request', () => {
    board.say({ type: 'set-setting', id: 20, name: 'focus-limit-s', value: 60 });
    expect(board.say({ type: 'set-setting', id: 20, name: 'focus-limit-s', value: 70 })).toMatchObject([
      { value: 70 },
    ]);
  });

  it('after a new hello is new, even when an old one was the same to the letter', () => {
    const set: Message = { type: 'set-setting', id: 20, name: 'focus-limit-s', value: 60 };
    board.say(set);
    board.say({ type: 'set-setting', id: 21, name: 'focus-limit-s', value: 90 });
    board.hello();
    board.say(set);
    expect(board.say({ type: 'get-setting', id: 22, name: 'focus-limit-s' })).toMatchObject([{ value: 60 }]);
  });

  it('is answered when the line has room again, however full it was', () => {
    board.roomBytes = 10;
    expect(board.say({ type: 'ping', id: 5 })).toEqual([]);
    expect(board.say({ type: 'ping', id: 6 })).toEqual([]);
    expect(board.drain()).toMatchObject([{ id: 5 }, { id: 6 }]);
  });

  it('never lights the lamp', () => {
    for (const message of recipeUpload('slipway', 10_000)) board.say(message);
    board.say({ type: 'choose', id: 200, job: 'recipe', name: 'slipway' });
    board.say({ type: 'choose', id: 201, job: 'strip', name: '' });
    expect(board.lampStarts).toBe(0);
  });
});

describe('what the board cannot keep or start', () => {
  beforeEach(() => {
    board.hello();
  });

  it('is not accepted: a clock that finds the log full of waiting entries is asked for again', () => {
    const answers: Message[] = [];
    for (let id = 10; id < 40; id++)
      answers.push(
        ...readAll(board.raw(encodeLine({ type: 'set-clock', id, epochMs: 1_800_000_000_000 + id }))),
      );
    const refused = answers.filter(({ type }) => type === 'error');
    expect(refused.length).toBeGreaterThan(0);
    expect(refused[0]).toMatchObject({ code: 'busy' });
    board.settle();
    expect(board.say({ type: 'set-clock', id: 50, epochMs: 1_800_000_000_050 })).toMatchObject([
      { type: 'ok' },
    ]);
    const clocks = board
      .say({ type: 'collect', id: 51, fromSeq: 1, count: 64 })
      .filter(({ type }) => type === 'clock');
    expect(clocks).toHaveLength(answers.length - refused.length + 1);
    expect(board.say({ type: 'diagnose', id: 52 })).toMatchObject([{ entriesLost: refused.length }]);
  });

  // The log once had no place for it, and the laptop took it for forgotten.
  it('is not accepted: a forget that finds the log full of waiting entries', () => {
    for (let id = 10; id < 14; id++)
      board.raw(encodeLine({ type: 'set-clock', id, epochMs: 1_800_000_000_000 + id }));
    expect(readAll(board.raw(encodeLine({ type: 'forget', id: 20, uptoSeq: 1 })))).toMatchObject([
      { type: 'error', id: 20, code: 'busy' },
    ]);
    board.settle();
    expect(board.say({ type: 'forget', id: 21, uptoSeq: 1 })).toMatchObject([{ type: 'ok' }]);
    expect(board.say({ type: 'ping', id: 22 })).toMatchObject([{ oldestSeq: 2 }]);
  });

  // 9007199254740991 was taken once, and no view of the archive could be shown any more.
  it.each([0, 946_684_799_999, 4_102_444_800_000, Number.MAX_SAFE_INTEGER])(
    'is refused with its range: a clock that says %i',
    (epochMs) => {
      expect(readAll(board.raw(sealed(`["set-clock",10,${epochMs}`)))).toMatchObject([
        {
          ...{ type: 'error', code: 'bad-field', field: 1, low: 0, high: 0 },
          text: 'allowed is 946684800000 to 4102444799999',
        },
      ]);
    },
  );

  it('is refused with the range that it really has, where that is wider than the error can bear', () => {
    expect(readAll(board.raw(sealed('["forget",10,4294967296')))).toMatchObject([
      { code: 'bad-field', field: 1, low: 0, high: 0, text: 'allowed is 0 to 4294967295' },
    ]);
  });

  it('is refused: a bracket of a recipe that is not there', () => {
    expect(board.say({ type: 'choose', id: 10, job: 'bracket', name: 'nowhere' })).toMatchObject([
      { type: 'error', code: 'not-found' },
    ]);
    expect(board.say({ type: 'ping', id: 11 })).not.toMatchObject([{ job: 'bracket' }]);
  });
});

describe('a setting', () => {
  beforeEach(() => {
    board.hello();
  });

  it('begins as the schema says', () => {
    for (const [index, name] of (Object.keys(settings) as (keyof typeof settings)[]).entries())
      expect(board.say({ type: 'get-setting', id: 10 + index, name })).toMatchObject([
        { type: 'setting', name, value: settings[name].initial },
      ]);
  });

  it('keeps its value over power-off', () => {
    board.say({ type: 'set-setting', id: 10, name: 'lamp-lag-ms', value: 120 });
    const later = new Conversation(board.flash);
    later.hello();
    expect(later.say({ type: 'get-setting', id: 11, name: 'lamp-lag-ms' })).toMatchObject([{ value: 120 }]);
  });

  it('out of its range is refused with the range, and stays', () => {
    expect(board.say({ type: 'set-setting', id: 10, name: 'lamp-lag-ms', value: 1001 })).toMatchObject([
      { type: 'error', code: 'bad-field', field: 2, low: -500, high: 1000 },
    ]);
    expect(board.say({ type: 'get-setting', id: 11, name: 'lamp-lag-ms' })).toMatchObject([{ value: 0 }]);
  });

  // 7 was taken once, and a click of the knob was then a step that no panel could name.
  it('that can have some values only refuses those between them, and names what it can be', () => {
    expect(board.say({ type: 'set-setting', id: 10, name: 'knob-step', value: 7 })).toMatchObject([
      { type: 'error', code: 'bad-field', field: 2, text: 'it can be 0, 3, 6, 12 or 24', low: 0, high: 24 },
    ]);
    expect(board.say({ type: 'get-setting', id: 11, name: 'knob-step' })).toMatchObject([{ value: 12 }]);
    for (const [index, value] of [0, 3, 6, 12, 24].entries())
      expect(board.say({ type: 'set-setting', id: 12 + index, name: 'knob-step', value })).toMatchObject([
        { type: 'setting', value },
      ]);
  });

  it('that the flash does not take is refused, and stays', () => {
    for (let sector = 0; sector < board.flash.size / 4096; sector++) board.flash.wearOut(sector);
    expect(board.say({ type: 'set-setting', id: 10, name: 'lamp-lag-ms', value: 120 })).toMatchObject([
      { type: 'error', id: 10, text: 'the flash did not take it' },
    ]);
    expect(board.say({ type: 'get-setting', id: 11, name: 'lamp-lag-ms' })).toMatchObject([{ value: 0 }]);
  });
});

describe('an upload', () => {
  beforeEach(() => {
    board.hello();
  });

  const upload = (messages: readonly Message[]) => messages.flatMap((message) => board.say(message));
  const list = () => board.say({ type: 'recipe-list', id: 900 });

  it('is kept whole and can be fetched as it was sent', () => {
    const sent = recipeUpload('slipway', 12_500);
    expect(upload(sent).every(({ type }) => type === 'ok')).toBe(true);
    expect(list()).toMatchObject([
      { type: 'recipe-line', name: 'slipway', version: 1, passes: 2, baseMs: 12_500 },
      { type: 'ended', count: 1 },
    ]);
    const fetched = board.say({ type: 'recipe-get', id: 901, name: 'slipway' });
    const content = (message: Message) => ({ ...message, id: 0 });
    const parts = sent.slice(0, -1).map(content);
    expect(fetched.map(content)).toEqual(expect.arrayContaining(parts));
    expect(fetched.at(-1)).toMatchObject({ type: 'ended', count: fetched.length - 1 });
  });

  it('survives power-off', () => {
    upload(recipeUpload('slipway', 12_500));
    board = new Conversation(board.flash);
    board.hello();
    expect(list()).toMatchObject([{ name: 'slipway' }, { count: 1 }]);
  });

  it('replaces the recipe of the same name, and drop removes it', () => {
    upload(recipeUpload('slipway', 12_500));
    upload(recipeUpload('slipway', 9_000, 300));
    upload(recipeUpload('jetty', 8_000, 400));
    expect(list()).toMatchObject([{ name: 'jetty' }, { name: 'slipway', baseMs: 9_000 }, { count: 2 }]);
    expect(board.say({ type: 'recipe-remove', id: 500, name: 'slipway' })).toMatchObject([{ type: 'ok' }]);
    expect(list()).toMatchObject([{ name: 'jetty' }, { count: 1 }]);
    expect(board.say({ type: 'recipe-remove', id: 501, name: 'slipway' })).toMatchObject([
      { code: 'not-found' },
    ]);
  });

  it('broken off anywhere leaves the recipe that was there', () => {
    upload(recipeUpload('slipway', 12_500));
    const next = recipeUpload('slipway', 9_000, 300);
    for (let kept = 0; kept < next.length; kept++) {
      board.hello();
      upload(next.slice(0, kept));
      expect(list(), `after ${kept} lines`).toMatchObject([{ baseMs: 12_500 }, { count: 1 }]);
    }
  });

  it.each([
    ['a part without a begin', (parts: Message[]) => parts.slice(1, 2), /recipe-begin first/],
    ['a commit before all parts', (parts: Message[]) => [...parts.slice(0, 4), parts.at(-1)!], /missing/],
    ['a dodge before its pass', (parts: Message[]) => [parts[0]!, parts[4]!], /not the next/],
    ['a pass out of order', (parts: Message[]) => [parts[0]!, parts[5]!], /not the next/],
    [
      'a wrong whole',
      (parts: Message[]) => [...parts.slice(0, -1), { ...parts.at(-1)!, whole: '00000000' } as Message],
      /whole/,
    ],
  ])('with %s is refused in words', (_, change, words) => {
    expect(upload(change(recipeUpload('slipway', 12_500))).at(-1)).toMatchObject({
      type: 'error',
      text: words,
    });
    expect(list()).toMatchObject([{ count: 0 }]);
  });

  it('without a name is refused', () => {
    const [begin] = recipeUpload('', 1000);
    expect(board.say(begin as Message)).toMatchObject([{ type: 'error', text: /needs a name/ }]);
  });

  it('past the room there is for recipes is refused as full, and none is lost', () => {
    for (let count = 0; count < 64; count++) upload(recipeUpload(`print-${count}`, 1000, 100 + count * 10));
    expect(upload(recipeUpload('one-too-many', 1000, 2000)).at(-1)).toMatchObject({
      type: 'error',
      code: 'full',
    });
    expect(list()).toHaveLength(65);
  });
});

describe('many lines', () => {
  it('go out as the line has room, each once, and an answer is not held up for ever', () => {
    board.hello();
    for (let count = 0; count < 5; count++)
      for (const message of recipeUpload(`print-${count}`, 1000, 100 + count * 10)) board.say(message);
    board.roomBytes = 0;
    board.say({ type: 'recipe-list', id: 300 });
    board.say({ type: 'ping', id: 301 });
    const heard: Message[] = [];
    for (let turn = 0; turn < 20; turn++) heard.push(...board.drain(250));
    expect(heard.filter(({ id }) => id === 300).map(({ type }) => type)).toEqual([
      ...Array<string>(5).fill('recipe-line'),
      'ended',
    ]);
    expect(heard.filter(({ id }) => id === 301)).toMatchObject([{ type: 'status' }]);
  });

  it('more lists at once than the board keeps in mind are refused as busy', () => {
    board.hello();
    board.roomBytes = 0;
    for (let id = 2; id < 6; id++) board.say({ type: 'collect', id, fromSeq: 1, count: 1 });
    expect(board.drain()).toContainEqual(expect.objectContaining({ type: 'error', id: 5, code: 'busy' }));
  });
});

describe('a flash of another board', () => {
  it('that holds nothing but noise starts empty', () => {
    const flash = new Flash();
    for (let offset = 0; offset < flash.size; offset += 256)
      flash.program(
        offset,
        Uint8Array.from({ length: 256 }, (_, at) => (at * 37 + offset) & 0xff),
      );
    const board = new Conversation(flash);
    expect(board.hello()).toMatchObject([{ type: 'welcome' }]);
    expect(board.say({ type: 'recipe-list', id: 2 })).toMatchObject([{ count: 0 }]);
  });
});
