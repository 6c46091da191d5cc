import { expect } from 'vitest';
import type { Message, MessageOf } from '../../../../shared-protocol/index.js';
import { type SettingName, settingAllows, settings } from '../../../../shared-protocol/settings.js';
import { usualBaths } from '../../../../shared-protocol/usual-baths.js';
import { wholeOf } from './conversation.js';

type Pass = MessageOf<'recipe-pass'> & { readonly itsDodges: MessageOf<'recipe-dodge'>[] };
type Fields = Readonly<Record<string, unknown>>;

interface Upload {
  readonly begin: MessageOf<'recipe-begin'>;
  readonly lines: Message[];
  readonly texts: Map<string, string>;
  readonly fines: Map<number, number>;
  readonly passes: Pass[];
  head?: MessageOf<'recipe-head'>;
}

/** What comes back for a request: an answer's fields, or the words that a refusal has. */
export type Expected = { readonly type: string } & Fields;

const ok: Expected = { type: 'ok' };
const refused = (code: string, text: unknown = expect.any(String)): Expected => ({
  ...{ type: 'error', code },
  text,
});
const because = (words: RegExp) => refused('not-allowed', expect.stringMatching(words));

function isFull({ begin, passes, head }: Upload): boolean {
  const dodges = passes.reduce((sum, pass) => sum + pass.itsDodges.length, 0);
  return head !== undefined && passes.length === begin.passes && dodges === begin.dodges;
}

const without = (message: Message, ...names: string[]): Fields =>
  Object.fromEntries(Object.entries(message).filter(([name]) => name !== 'id' && !names.includes(name)));

/** What a board keeps for whoever sets it, by what the schema says of each request; it knows no flash and no lines. */
export class KeptModel {
  readonly recipes = new Map<string, Fields[]>();
  readonly settings: Record<string, number> = Object.fromEntries(
    Object.entries(settings).map(([name, { initial }]) => [name, initial]),
  );
  baths: Fields[] = usualBaths.map((bath) => ({ ...bath }));
  points: Fields[] = [];
  name = '';
  #upload: Upload | undefined;
  #bathsSent: MessageOf<'bath-set'>[] = [];
  #pointsSent: MessageOf<'point-set'>[] = [];
  /** What the flash is still to take. */
  #inTheAir: (() => void) | undefined;

  get isKeeping(): boolean {
    return this.#inTheAir !== undefined;
  }

  /** The flash has it. */
  settle(): void {
    this.#inTheAir?.();
    this.#inTheAir = undefined;
  }

  /** A new conversation: what was sent in part is forgotten. */
  hello(): void {
    this.#upload = undefined;
    this.#bathsSent = [];
    this.#pointsSent = [];
  }

  /** What the board answers, now or when the flash has it; `isReading` while recipes are being read out. */
  take(message: Message, isReading = false): Expected {
    if (message.type === 'recipe-begin' && this.isKeeping)
      return refused('busy', expect.stringMatching(/flash/));
    const part = this.#takePart(message);
    if (part !== undefined) return part;
    if (this.isKeeping) return refused('busy', expect.stringMatching(/flash is still being written/));
    if (isReading) return refused('busy', expect.stringMatching(/being read/));
    return this.#store(message);
  }

  #takePart(message: Message): Expected | undefined {
    const upload = this.#upload;
    switch (message.type) {
      case 'recipe-begin': {
        if (message.name === '') return because(/needs a name/);
        const empty = { texts: new Map(), fines: new Map(), passes: [] };
        this.#upload = { begin: message, lines: [message], ...empty };
        return ok;
      }
      case 'recipe-text':
      case 'recipe-head':
      case 'recipe-pass':
      case 'recipe-dodge':
      case 'recipe-fine': {
        if (upload === undefined) return because(/recipe-begin first/);
        const fault = this.#partFault(upload, message);
        if (fault !== undefined) return fault;
        upload.lines.push(message);
        return ok;
      }
      default:
        return undefined;
    }
  }

  #partFault(upload: Upload, message: Message): Expected | undefined {
    const { begin, passes } = upload;
    const announced = passes.reduce((sum, pass) => sum + pass.dodges, 0);
    const last = passes.at(-1);
    const due = last === undefined ? 0 : last.dodges - last.itsDodges.length;
    if (message.type === 'recipe-text') upload.texts.set(message.which, message.value);
    if (message.type === 'recipe-head') upload.head = message;
    if (message.type === 'recipe-dodge') {
      if (due === 0) return because(/not the next/);
      last!.itsDodges.push(message);
    }
    if (message.type === 'recipe-pass') {
      if (message.pass !== passes.length + 1 || due > 0) return because(/not the next/);
      if (passes.length === begin.passes || announced + message.dodges > begin.dodges)
        return because(/more parts than/);
      passes.push({ ...message, itsDodges: [] });
    }
    if (message.type === 'recipe-fine') {
      if (message.offset > begin.passes + begin.dodges) return because(/more parts than/);
      upload.fines.set(message.offset, message.fine3M);
    }
    return undefined;
  }

  #store(message: Message): Expected {
    switch (message.type) {
      case 'recipe-commit':
        return this.#commit(message.whole);
      case 'recipe-remove':
        if (!this.recipes.has(message.name)) return refused('not-found');
        return this.#keep(() => this.recipes.delete(message.name));
      case 'name-set':
        if (message.name === '' && this.name === '') return ok;
        return this.#keep(() => {
          this.name = message.name;
        });
      case 'set-setting':
        return this.#set(message);
      case 'bath-set':
        return this.#setBath(message);
      case 'bath-renew':
        if (message.bath > this.baths.length) return refused('not-found');
        this.#bathsSent = [];
        return this.#keep(() => {});
      case 'point-set':
        return this.#setPoint(message);
      case 'points-clear':
        return this.points.length === 0
          ? ok
          : this.#keep(() => {
              this.points = [];
            });
      default:
        throw new Error(`the model knows no ${message.type}`);
    }
  }

  #keep(then: () => void): Expected {
    this.#inTheAir = then;
    return ok;
  }

  #commit(whole: string): Expected {
    const upload = this.#upload;
    if (upload === undefined) return because(/recipe-begin first/);
    if (!isFull(upload)) return because(/missing/);
    if (whole !== wholeOf(upload.lines)) return because(/checksum of the whole/);
    this.#upload = undefined;
    return this.#keep(() => this.recipes.set(upload.begin.name, asFetched(upload)));
  }

  #set({ name, value }: MessageOf<'set-setting'>): Expected {
    const { min, max } = settings[name as SettingName];
    if (value < min || value > max || !settingAllows(name as SettingName, value)) return refused('bad-field');
    this.settings[name] = value;
    this.#keep(() => {});
    return { type: 'setting', name, value };
  }

  #setBath(message: MessageOf<'bath-set'>): Expected {
    if (message.label === '') return because(/needs a label/);
    if (message.bath === 1) this.#bathsSent = [];
    const sent = this.#bathsSent;
    if (message.bath !== sent.length + 1 || message.bath > message.baths) return because(/in order/);
    if (sent.some(({ baths }) => baths !== message.baths)) return because(/in order/);
    if (sent.some(({ label }) => label === message.label)) return because(/two baths/);
    sent.push(message);
    if (message.bath < message.baths) return ok;
    this.#bathsSent = [];
    return this.#keep(() => {
      this.baths = sent.map((bath) => without(bath, 'type', 'bath', 'baths'));
    });
  }

  #setPoint(message: MessageOf<'point-set'>): Expected {
    if (message.label === '') return because(/needs a label/);
    if (message.point === 1) this.#pointsSent = [];
    const sent = this.#pointsSent;
    if (message.point !== sent.length + 1 || message.point > message.points) return because(/in order/);
    if (sent.some(({ points }) => points !== message.points)) return because(/in order/);
    sent.push(message);
    if (message.point < message.points) return ok;
    this.#pointsSent = [];
    return this.#keep(() => {
      this.points = sent.map((point) => without(point, 'type', 'point', 'points'));
    });
  }
}

/** In the order of an upload, with each text and, where there is any, each fine part. */
function asFetched({ begin, texts, head, passes, fines }: Upload): Fields[] {
  const offsets = begin.passes + begin.dodges;
  const isFine = [...fines.values()].some((fine3M) => fine3M !== 0);
  return [
    without(begin),
    ...['title', 'negative', 'paper'].map((which) => ({
      ...{ type: 'recipe-text', which },
      value: texts.get(which) ?? '',
    })),
    without(head!),
    ...passes.flatMap((pass) => [
      without(pass, 'itsDodges'),
      ...pass.itsDodges.map((dodge) => without(dodge)),
    ]),
    ...Array.from({ length: isFine ? offsets : 0 }, (_, at) => ({
      ...{ type: 'recipe-fine', offset: at + 1 },
      fine3M: fines.get(at + 1) ?? 0,
    })),
  ];
}
