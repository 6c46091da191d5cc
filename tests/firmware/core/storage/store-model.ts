import { code, documentKind, type Entry, forms, type StoreRig } from './store-rig.js';

type Certainty = 'asked' | 'acknowledged';

interface ExpectedEntry {
  readonly kind: number;
  readonly boot: number;
  readonly isWhole: boolean;
  readonly begun: Uint8Array;
  written: Certainty;
  ended?: { readonly result: Uint8Array; written: Certainty };
}

interface ExpectedDocument {
  /** What is certainly on the shelf, undefined for nothing, and what is on its way to be. */
  acknowledged: Uint8Array | undefined;
  asked?: { readonly body: Uint8Array | undefined };
}

/** One thing that a printer's evening asks of the stores. */
export type Request =
  | { readonly what: 'begin' | 'append'; readonly kind: number; readonly payload: Uint8Array }
  | { readonly what: 'end'; readonly payload: Uint8Array }
  | { readonly what: 'forget'; readonly seq: number }
  | { readonly what: 'put'; readonly kind: number; readonly name: string; readonly body: Uint8Array }
  | { readonly what: 'drop'; readonly kind: number; readonly name: string };

/**
 * What the stores must hold, kept as simply as can be. `ask` hands requests to a rig, `hear` takes note of
 * what was acknowledged, and `recover` judges the boot after a power cut: everything acknowledged is there,
 * everything else is there whole or not at all.
 */
export class StoreModel {
  readonly entries = new Map<number, ExpectedEntry>();
  readonly documents = new Map<string, ExpectedDocument>();
  #forgotten = 0;
  #forgetting: number[] = [];
  #whenDone = new Map<number, () => void>();

  /** A model that expects the same, with nothing under way. */
  copy(): StoreModel {
    const copy = new StoreModel();
    copy.#forgotten = this.#forgotten;
    for (const [seq, entry] of this.entries) copy.entries.set(seq, structuredClone(entry));
    for (const [key, document] of this.documents) copy.documents.set(key, { ...document });
    return copy;
  }

  ask(rig: StoreRig, request: Request): number {
    const seq = rig.core.nextSeq();
    const answer = this.#submit(rig, request);
    if (answer === code.waiting) this.#whenDone.set(rig.ticket, this.#expect(rig, request, seq));
    return answer;
  }

  /** Takes note of everything that the rig reported as done since the last time. */
  hear(rig: StoreRig): void {
    for (const [ticket, result] of rig.finished) {
      if (result !== code.done) throw new Error(`request ${ticket} ended with ${result}`);
      this.#whenDone.get(ticket)?.();
      this.#whenDone.delete(ticket);
    }
    rig.finished.clear();
  }

  /** Checks the first boot after a cut, and takes over what it found of the requests under way. */
  recover(rig: StoreRig): void {
    this.#whenDone.clear();
    this.#adoptForgotten(rig.core.forgottenSeq());
    this.#adoptEntries(rig.entries());
    for (const [key, document] of this.documents) this.#adoptDocument(rig, key, document);
    this.check(rig);
    const newest = Math.max(this.#forgotten, ...this.entries.keys());
    same(rig.core.nextSeq(), newest + 1, 'the next number');
  }

  /** Checks all that is acknowledged, with nothing under way. */
  check(rig: StoreRig): void {
    same(rig.core.forgottenSeq(), this.#forgotten, 'the entries forgotten');
    const readable = [...this.entries].filter(([seq]) => seq > this.#forgotten && seq < rig.core.endSeq());
    const found = rig.entries();
    same(found.map(({ seq }) => seq).join(), readable.map(([seq]) => seq).join(), 'the entries');
    for (const entry of found) checkEntry(entry, this.entries.get(entry.seq)!);
    for (const [key, { acknowledged }] of this.documents) {
      const [kind, name] = splitKey(key);
      sameBytes(rig.document(kind, name), acknowledged, `document ${key}`);
    }
    this.#checkCounts(rig);
  }

  #submit(rig: StoreRig, request: Request): number {
    switch (request.what) {
      case 'begin':
        return rig.begin(request.kind, request.payload);
      case 'append':
        return rig.append(request.kind, request.payload);
      case 'end':
        return rig.end(request.payload);
      case 'forget':
        return rig.forget(request.seq);
      case 'put':
        return rig.put(request.kind, request.name, request.body);
      case 'drop':
        return rig.drop(request.kind, request.name);
    }
  }

  /** Notes what was asked for; the answer is to be called when it is acknowledged. */
  #expect(rig: StoreRig, request: Request, seq: number): () => void {
    switch (request.what) {
      case 'begin':
      case 'append':
        return this.#expectEntry(rig, request, seq);
      case 'end':
        return this.#expectEnd(rig.core.openSeq(), request.payload);
      case 'forget':
        return this.#expectForgotten(Math.min(request.seq, rig.core.endSeq() - 1));
      case 'put':
        return this.#expectDocument(`${request.kind} ${request.name}`, request.body);
      case 'drop':
        return this.#expectDocument(`${request.kind} ${request.name}`, undefined);
    }
  }

  #expectEntry(rig: StoreRig, request: Request & { what: 'begin' | 'append' }, seq: number): () => void {
    const entry: ExpectedEntry = {
      kind: request.kind,
      boot: rig.core.bootNumber(),
      isWhole: request.what === 'append',
      begun: request.payload,
      written: 'asked',
    };
    this.entries.set(seq, entry);
    return () => {
      entry.written = 'acknowledged';
    };
  }

  #expectEnd(seq: number, result: Uint8Array): () => void {
    const ended = { result, written: 'asked' as Certainty };
    this.entries.get(seq)!.ended = ended;
    return () => {
      ended.written = 'acknowledged';
    };
  }

  #expectForgotten(upto: number): () => void {
    this.#forgetting.push(upto);
    return () => this.#adoptForgotten(Math.max(upto, this.#forgotten));
  }

  #expectDocument(key: string, body: Uint8Array | undefined): () => void {
    const document = this.documents.get(key) ?? { acknowledged: undefined };
    this.documents.set(key, document);
    document.asked = { body };
    return () => {
      document.acknowledged = body;
      delete document.asked;
    };
  }

  #adoptForgotten(upto: number): void {
    if (upto !== this.#forgotten && !this.#forgetting.includes(upto)) {
      throw new Error(`entries are forgotten up to ${upto}, which nobody asked for`);
    }
    this.#forgotten = upto;
    this.#forgetting = this.#forgetting.filter((other) => other > upto);
    for (const seq of this.entries.keys()) if (seq <= upto) this.entries.delete(seq);
  }

  #adoptEntries(found: readonly Entry[]): void {
    const there = new Map(found.map((entry) => [entry.seq, entry]));
    for (const [seq, expected] of this.entries) {
      const entry = there.get(seq);
      if (entry === undefined && expected.written === 'asked') this.entries.delete(seq);
      if (entry?.form === 'interrupted' && expected.ended?.written === 'asked') delete expected.ended;
      expected.written = 'acknowledged';
      if (expected.ended !== undefined) expected.ended.written = 'acknowledged';
    }
  }

  #adoptDocument(rig: StoreRig, key: string, document: ExpectedDocument): void {
    const [kind, name] = splitKey(key);
    const asked = document.asked;
    delete document.asked;
    if (asked !== undefined && isSame(rig.document(kind, name), asked.body))
      document.acknowledged = asked.body;
  }

  #checkCounts(rig: StoreRig): void {
    for (const kind of Object.values(documentKind)) {
      const expected = [...this.documents].filter(([key, { acknowledged }]) => {
        return acknowledged !== undefined && splitKey(key)[0] === kind;
      });
      same(rig.core.countDocuments(kind), expected.length, `the documents of kind ${kind}`);
    }
  }
}

function checkEntry(found: Entry, expected: ExpectedEntry): void {
  const form = expected.isWhole ? 'whole' : expected.ended === undefined ? 'interrupted' : 'ended';
  same(forms.includes(found.form) && found.form, form, `the form of entry ${found.seq}`);
  same(found.kind, expected.kind, `the kind of entry ${found.seq}`);
  same(found.boot, expected.boot, `the boot of entry ${found.seq}`);
  sameBytes(found.begun, expected.begun, `entry ${found.seq}`);
  sameBytes(found.ended, expected.ended?.result ?? new Uint8Array(), `the end of entry ${found.seq}`);
}

function splitKey(key: string): [number, string] {
  const space = key.indexOf(' ');
  return [Number(key.slice(0, space)), key.slice(space + 1)];
}

function isSame(found: Uint8Array | undefined, expected: Uint8Array | undefined): boolean {
  if (found === undefined || expected === undefined) return found === expected;
  return Buffer.compare(found, expected) === 0;
}

function sameBytes(found: Uint8Array | undefined, expected: Uint8Array | undefined, what: string): void {
  if (!isSame(found, expected)) {
    throw new Error(`${what}: found ${found?.length} bytes that are not the ${expected?.length} expected`);
  }
}

function same(found: unknown, expected: unknown, what: string): void {
  if (found !== expected) throw new Error(`${what}: found ${found}, expected ${expected}`);
}
