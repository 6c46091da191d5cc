import { partsOfRecipe } from '../../../host/recipe/recipe-messages.js';
import {
  fieldsOf,
  type Message,
  type MessageType,
  messageTypes,
  type RequestType,
  replyTo,
} from '../../../shared-protocol/index.js';
import type { WireFact } from '../../../shared-protocol/wire-types.js';
import { recipe } from '../../host/board/link/laptop.js';
import { lens, type ScriptedPeer, sealed } from '../../host/board/link/scripted-peer.js';
import { Random } from '../../setup/random.js';
import { randomMessage } from '../fuzz/random-message.js';

/** A line before it has its number: its type and its fields, which the schema need not allow. */
export interface RawLine {
  readonly type: string;
  readonly fields: readonly unknown[];
}

/** What a liar says in place of an answer. */
export interface Lie {
  readonly name: string;
  /** The lines; they bear the request's number and this. */
  readonly lines: readonly RawLine[];
  readonly idOff?: number;
  /** Said over and over, a line a millisecond. */
  readonly endless?: true;
  /** What each line loses at its end, its newline first. */
  readonly cut?: number;
  /** The answer is a right one all the same, once it arrives. */
  readonly harmless?: true;
}

const SEED = 20270305;
const counters = {
  ...{ badLines: 0, badCrcs: 0, longLines: 0, repeats: 0, refusals: 0, noticesDropped: 0, overruns: 0 },
  ...{ framingErrors: 0, breaks: 0, lostInRing: 0, entriesLost: 0 },
};
const kept = {
  name: 'jetty',
  version: 1,
  title: 'Jetty',
  passes: 3,
  baseMs: 12_001,
  bodyCrc: '0badf00d',
  intact: true,
};
const bath = {
  ...{ bath: 1, baths: 1, label: 'stop', resinCoatedSeconds: 30, fibreSeconds: 60, drainSeconds: 5 },
  ...{ agitationSeconds: 10, limitCm2: 0, sheets: 2, areaCm2: 1032 },
};

const point = { point: 1, points: 1, label: 'stop', trayC10: 200, resinCoatedSeconds: 30, fibreSeconds: 60 };

/** What an honest board that keeps one recipe, one bath and three log entries says beside what the peer says anyway. */
export function makeHonest(peer: ScriptedPeer): void {
  peer.log = [lens(1), lens(2), lens(3)];
  peer.recipe = partsOfRecipe(recipe('Jetty')).map((part) => ({ ...part, id: 0 }) as Message);
  peer.answer = ({ type }) => {
    if (type === 'diagnose') return [{ type: 'counters', ...counters }];
    if (type === 'recipe-list')
      return [
        { type: 'recipe-line', ...kept },
        { type: 'ended', count: 1 },
      ];
    if (type === 'make-way') return [{ type: 'way', stands: 'not-asked' }];
    if (type === 'point-get') return [{ type: 'bath-point', ...point }];
    return type === 'bath-get' ? [{ type: 'bath', ...bath }] : undefined;
  };
}

export function rawOf(message: object): RawLine {
  const { type, id: _id, ...fields } = message as Message & Record<string, unknown>;
  return { type, fields: fieldsOf(type).map(({ name }) => fields[name]) };
}

/** The line on the wire, with a right checksum around whatever it says. */
export function lineOf({ type, fields }: RawLine, id: number): string {
  return sealed(JSON.stringify([type, id, ...fields]).slice(0, -1));
}

/** Every lie about this answer, made from the schema. */
export function liesAbout(request: RequestType, honest: readonly RawLine[]): Lie[] {
  return [
    ...wrongTypes(request),
    ...honest.flatMap((line, at) =>
      wrongFields(line).map(({ name, said }) => ({ name, lines: honest.with(at, said) })),
    ),
    { name: 'of another number', lines: honest, idOff: 1 },
    { name: 'said twice over', lines: honest.flatMap((line) => [line, line]), harmless: true },
    { name: 'without its end', lines: honest.slice(0, -1) },
    { name: 'its end alone', lines: honest.slice(-1) },
    { name: 'backwards', lines: honest.toReversed() },
    { name: 'cut in its checksum', lines: honest, cut: 5 },
    { name: 'without newlines', lines: honest, cut: 1 },
    { name: 'without end', lines: honest.slice(0, 1), endless: true },
    { name: 'silence', lines: [] },
  ];
}

function wrongTypes(request: RequestType): Lie[] {
  const random = new Random(SEED);
  const { end, lines = [] } = replyTo(request);
  return messageTypes
    .filter((type) => type !== end && type !== 'error' && !lines.includes(type))
    .map((type) => ({ name: `'${type}' in its place`, lines: [rawOf(randomMessage(random, [type]))] }));
}

function wrongFields(line: RawLine): { name: string; said: RawLine }[] {
  const facts = fieldsOf(line.type as MessageType);
  const changed = facts.flatMap(({ name, fact }, at) =>
    wrongValues(fact).map((value) => ({
      name: `${line.type}.${name} ${JSON.stringify(value)}`,
      said: { ...line, fields: line.fields.with(at, value) },
    })),
  );
  return [
    ...changed,
    { name: `${line.type} with a field more`, said: { ...line, fields: [...line.fields, 0] } },
    ...(facts.length === 0
      ? []
      : [{ name: `${line.type} with a field less`, said: { ...line, fields: line.fields.slice(1) } }]),
  ];
}

/** Values that the field's schema does not allow, and the last that it does. */
function wrongValues(fact: WireFact): unknown[] {
  switch (fact.kind) {
    case 'integer':
      return [fact.min - 1, fact.min, fact.max, fact.max + 1, 0.5, null, '1'];
    case 'flag':
      return [1, null];
    case 'choice':
      return ['nothing of the kind', 0, ...fact.options.slice(0, 2)];
    case 'hex':
      return ['xyz', 'f'.repeat(fact.digits)];
    case 'text':
      return ['x'.repeat(fact.maxChars + 1), fact.form === 'name' ? 'other' : '\u0007', 7];
  }
}
