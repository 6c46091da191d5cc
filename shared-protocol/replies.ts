import { limits } from './limits.js';
import { type MessageOf, type MessageType, messages, messageTypes, type TypeOfRole } from './schema.js';

export type RequestType = TypeOfRole<'request'>;
type RecordType = TypeOfRole<'record'>;

/** What may be said in answer to a request, besides `error`. */
interface Reply {
  /** The message that is the answer, or that ends it where lines come before. */
  readonly end: TypeOfRole<'answer'>;
  /** What may come before the end, a line each. */
  readonly lines?: readonly MessageType[];
  /** So many lines before the end at the most. */
  readonly mostLines?: number;
  /** Fields that the answer repeats from the request, in whichever of its lines has them. */
  readonly repeats?: readonly string[];
}

const recordTypes = messageTypes.filter((type): type is RecordType => messages[type].role === 'record');

/** begin, three texts, head; then the passes and their dodges, and the fine part of each. */
const MOST_RECIPE_LINES = 5 + 2 * (limits.recipePasses + limits.recipeDodges);

/** The one place that says which answers a request may get; the host's types and checks follow from it. */
export const replies = {
  hello: { end: 'welcome' },
  ping: { end: 'status' },
  diagnose: { end: 'counters' },
  'set-clock': { end: 'ok' },
  'get-setting': { end: 'setting', repeats: ['name'] },
  'set-setting': { end: 'setting', repeats: ['name', 'value'] },
  watch: { end: 'ok' },
  'recipe-begin': { end: 'ok' },
  'recipe-text': { end: 'ok' },
  'recipe-head': { end: 'ok' },
  'recipe-pass': { end: 'ok' },
  'recipe-dodge': { end: 'ok' },
  'recipe-fine': { end: 'ok' },
  'recipe-commit': { end: 'ok' },
  'recipe-list': { end: 'ended', lines: ['recipe-line'], mostLines: limits.recipes },
  'recipe-get': {
    end: 'ended',
    lines: ['recipe-begin', 'recipe-text', 'recipe-head', 'recipe-pass', 'recipe-dodge', 'recipe-fine'],
    mostLines: MOST_RECIPE_LINES,
    repeats: ['name'],
  },
  'recipe-remove': { end: 'ok' },
  choose: { end: 'ok' },
  'strip-set': { end: 'ok' },
  'bath-set': { end: 'ok' },
  'bath-get': { end: 'bath', repeats: ['bath'] },
  'bath-renew': { end: 'ok' },
  'point-set': { end: 'ok' },
  'point-get': { end: 'bath-point', repeats: ['point'] },
  'points-clear': { end: 'ok' },
  'name-set': { end: 'ok' },
  'name-get': { end: 'board-name' },
  collect: { end: 'collected', lines: recordTypes, mostLines: limits.collectRecords },
  forget: { end: 'ok' },
  'make-way': { end: 'way' },
} as const satisfies Record<RequestType, Reply>;

type ReplyTo<Type extends RequestType> = (typeof replies)[Type];

/** The message that answers a request of this type, or ends its answer. */
export type EndOf<Type extends RequestType> = MessageOf<ReplyTo<Type>['end']>;

type LineTypeOf<Type extends RequestType> =
  ReplyTo<Type> extends { readonly lines: readonly (infer Line extends MessageType)[] } ? Line : never;

/** The messages that may come before the end of an answer of many lines. */
export type LineOf<Type extends RequestType> = MessageOf<LineTypeOf<Type>>;

/** The rule for a request's answer, as the checks read it. */
export function replyTo(type: RequestType): Reply {
  return replies[type];
}
