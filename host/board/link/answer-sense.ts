import {
  limits,
  type Message,
  type MessageOf,
  messages,
  type RequestType,
  replyTo,
  settings,
} from '../../../shared-protocol/index.js';

/** A record of the log takes one such slot of the flash at least. */
const SLOT_BYTES = 32;
/** What the chip can address at the most, for boards of another version. */
const LARGEST_FLASH_BYTES = 0x100_0000;

/** More entries than a board of this version has room for, and than any board has. */
export const mostEntries = limits.storageBytes / SLOT_BYTES;
export const mostEntriesOfAnyBoard = LARGEST_FLASH_BYTES / SLOT_BYTES;

type Fields = Readonly<Record<string, unknown>>;

/**
 * Why a message that bears a request's number cannot belong to its answer, in words that go on after "asked '...',";
 * undefined when it can.
 */
export function whyNoAnswer(request: Fields & { type: RequestType }, answer: Message): string | undefined {
  const { end, lines = [], repeats = [] } = replyTo(request.type);
  if (answer.type !== end && !lines.includes(answer.type))
    return `'${answer.type}' came in place of '${end}'`;
  const values = answer as unknown as Fields;
  const other = repeats.find((field) => field in values && values[field] !== request[field]);
  if (other !== undefined)
    return `${other} ${JSON.stringify(values[other])} came in place of ${JSON.stringify(request[other])}`;
  return whyImpossible(answer);
}

/** What the schema allows and no board can have. */
function whyImpossible(answer: Message): string | undefined {
  switch (answer.type) {
    case 'status':
      return impossibleStatus(answer);
    case 'setting': {
      const { min, max } = settings[answer.name];
      const { name, value } = answer;
      return value < min || value > max ? `${name} came as ${value}, outside ${min} to ${max}` : undefined;
    }
    case 'bath':
      return answer.bath > answer.baths ? `bath ${answer.bath} of ${answer.baths} came` : undefined;
    case 'bath-point':
      return answer.point > answer.points
        ? `time ${answer.point} of ${answer.points} by temperature came`
        : undefined;
    default:
      return undefined;
  }
}

function impossibleStatus({ oldestSeq, nextSeq, entriesLeft, recipes }: MessageOf<'status'>) {
  if (nextSeq < oldestSeq) return `a log came that goes backwards, from ${oldestSeq} to ${nextSeq}`;
  if (nextSeq - oldestSeq > mostEntries) return `${nextSeq - oldestSeq} log entries came, more than fit`;
  if (entriesLeft > mostEntries) return `room for ${entriesLeft} log entries came, more than fit`;
  return recipes > limits.recipes ? `${recipes} recipes came, more than fit` : undefined;
}

/** The type of a line that could not be read, if it is a message of this version that is no record of the log. */
export function knownTypeOf(line: string): string | undefined {
  const type = (JSON.parse(line) as unknown[])[0] as string;
  return Object.hasOwn(messages, type) && messages[type as Message['type']].role !== 'record'
    ? type
    : undefined;
}
