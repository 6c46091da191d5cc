import { type Duplex, duplexPair } from 'node:stream';
import {
  decodeLine,
  encodeLine,
  limits,
  lineChecksum,
  type Message,
  type MessageOf,
  protocolVersion,
  schemaHash,
  settings,
} from '../../../../shared-protocol/index.js';

type Spoken<Type extends Message['type'] = Message['type']> = {
  [Key in Type]: Omit<MessageOf<Key>, 'id'>;
}[Type];

/** What becomes of a line on its way: passed on as given, swallowed, or changed. */
export type Wire = (line: string, count: number) => string | undefined;

/** A record as the peer tells it. */
export function lens(seq: number, boot = 1): Spoken<'lens'> {
  return { type: 'lens', boot, seq, uptimeMs: seq * 1000 };
}

/**
 * The board's end of a line, as far as the link's tests need it: answers every request at once from a few lists, and
 * does on purpose what lines and boards do by mistake.
 */
export class ScriptedPeer {
  /** The laptop's end. */
  readonly laptop: Duplex;
  /** Every byte heard. */
  raw = '';
  /** Every good line heard, in order. */
  readonly heard: Message[] = [];
  log: Spoken<'lens' | 'exposure' | 'clock' | 'started' | 'sheet'>[] = [];
  recipe: Message[] = [];
  name = '';
  welcome: Partial<MessageOf<'welcome'>> = {};
  /** Lines that come in, lines that go out. */
  incoming: Wire = (line) => line;
  outgoing: Wire = (line) => line;
  /** Answers of one's own, tried first. */
  answer: (message: Message) => readonly Spoken[] | undefined = () => undefined;
  readonly #end: Duplex;
  #text = '';
  #in = 0;
  #out = 0;

  constructor() {
    [this.laptop, this.#end] = duplexPair();
    this.#end.setEncoding('latin1');
    this.#end.on('data', (text: string) => this.#take(text));
    this.#end.on('error', () => {});
  }

  types(): string[] {
    return this.heard.map(({ type }) => type);
  }

  /** Bytes of one's own. */
  say(text: string): void {
    this.#end.write(text, 'latin1');
  }

  tell(spoken: Spoken, id = 0): void {
    const line = this.outgoing(encodeLine({ ...spoken, id } as Message), this.#out++);
    if (line !== undefined) this.say(line);
  }

  /** Its log can be read up to this number, and is rotten from there to its end. */
  rotAfter(last: number): void {
    const endSeq = this.log.at(-1)!.seq + 1;
    this.answer = (message) => {
      if (message.type !== 'collect') return undefined;
      const records = this.log.filter(({ seq }) => seq >= message.fromSeq && seq <= last);
      const nextSeq = records.length > 0 ? last + 1 : message.fromSeq;
      return [...records, { type: 'collected', nextSeq, endSeq }];
    };
  }

  /** The port goes away. */
  vanish(): void {
    this.#end.destroy();
    this.laptop.destroy();
  }

  #take(text: string): void {
    this.raw += text;
    this.#text += text;
    const lines = this.#text.split('\n');
    this.#text = lines.pop()!;
    for (const line of lines) {
      if (line === '') continue;
      const arrived = this.incoming(line, this.#in++);
      if (arrived !== undefined) this.#hear(arrived);
    }
  }

  #hear(line: string): void {
    const decoded = decodeLine(line);
    if (!decoded.ok) {
      this.tell(refusal(decoded.fault), decoded.id);
      return;
    }
    const { message } = decoded;
    this.heard.push(message);
    for (const spoken of this.answer(message) ?? this.#answer(message)) this.tell(spoken, message.id);
  }

  #answer(message: Message): Spoken[] {
    switch (message.type) {
      case 'hello':
        return [{ type: 'welcome', ...usualWelcome, ...this.welcome } as Spoken];
      case 'ping':
        return [this.#status()];
      case 'get-setting':
        return [{ type: 'setting', name: message.name, value: settings[message.name].initial }];
      case 'set-setting':
        return [{ type: 'setting', name: message.name, value: message.value }];
      case 'name-get':
        return [{ type: 'board-name', name: this.name }];
      case 'collect':
        return this.#pulled(message);
      case 'recipe-get':
        return [
          ...this.recipe.map(({ id: _id, ...spoken }) => spoken as Spoken),
          { type: 'ended', count: this.recipe.length },
        ];
      default:
        return [{ type: 'ok' }];
    }
  }

  #status(): Spoken {
    const first = this.log[0]?.seq ?? 1;
    const next = (this.log.at(-1)?.seq ?? 0) + 1;
    const counts = {
      oldestSeq: first,
      nextSeq: next,
      entriesLeft: 4000,
      recipes: 0,
      boot: 7,
      uptimeMs: 2000,
    };
    const calm = { state: 'rest', job: 'none', name: '', lensConfirmed: false, pedalStuck: false } as const;
    return { type: 'status', ...calm, ...counts };
  }

  #pulled({ fromSeq, count }: MessageOf<'collect'>): Spoken[] {
    const records = this.log.filter(({ seq }) => seq >= fromSeq).slice(0, count);
    const nextSeq = (records.at(-1)?.seq ?? fromSeq - 1) + 1;
    return [...records, { type: 'collected', nextSeq, endSeq: (this.log.at(-1)?.seq ?? 0) + 1 }];
  }
}

/** A line with a right checksum around whatever stands in it. */
export function sealed(body: string): string {
  return `${body},"${lineChecksum(body)}"]\n`;
}

/** The line with one of its characters changed. */
export function damaged(line: string): string {
  return line.replace(/\d/, (digit) => String((Number(digit) + 1) % 10));
}

function refusal(code: MessageOf<'error'>['code']): Spoken {
  return { type: 'error', code, text: '', field: 0, low: 0, high: 0 };
}

export const usualWelcome = {
  protocol: protocolVersion,
  schemaHash,
  firmwareVersion: '0.1.0',
  boardId: '00c0ffee00c0ffee',
  boot: 7,
  uptimeMs: 1234,
} as const;

export const lineLimit = limits.lineBytes;
