import type { z } from 'zod';
import {
  checkupStep,
  cover,
  errorCode,
  exposureKind,
  finding,
  job,
  makingWay,
  outcome,
  passKind,
  recipeText,
  runState,
  settingName,
  startCause,
  turnable,
  verdict,
} from './choices.js';
import { limits } from './limits.js';
import { flag, hexDigits, integer, nameText, text, u8, u16, u32 } from './wire-types.js';

export * from './choices.js';
export * from './settings.js';

/** Rises when a line of the frozen messages would be read otherwise; the schema hash tells all other changes. */
export const protocolVersion = 2;

/**
 * Who says a message: a request gets one numbered answer, an answer bears its request's id, a record is one
 * entry of the log (an answer to `collect`), a notice is unasked-for and bears id 0.
 */
export type Role = 'request' | 'answer' | 'record' | 'notice';

interface Definition<Says extends Role, Shape extends z.core.$ZodLooseShape> {
  readonly role: Says;
  /** What it says, in a sentence, for DEVELOPERS and for `--help` texts. */
  readonly meaning: string;
  /**
   * Its fields never change, new messages are added instead: other versions must read it, or it lies on the
   * board's flash as the codec's record (the log, the recipes).
   */
  readonly frozen: boolean;
  readonly fields: Shape;
  /** What it was called in earlier protocols, where that was otherwise: those who speak them must still be understood. */
  readonly named: NamesBefore;
  /** A record's kind on the flash, given once and for ever; 0 for all other messages. */
  readonly entryKind: number;
}

/** Names by the last protocol that had them. */
type NamesBefore = Readonly<Record<number, string>>;

function message<const Says extends Role, const Shape extends z.core.$ZodLooseShape>(
  role: Says,
  meaning: string,
  fields: Shape,
): Definition<Says, Shape> {
  return { role, meaning, fields, frozen: false, named: {}, entryKind: 0 };
}

function frozenMessage<const Says extends Role, const Shape extends z.core.$ZodLooseShape>(
  role: Says,
  meaning: string,
  fields: Shape,
  named: NamesBefore = {},
): Definition<Says, Shape> {
  return { role, meaning, fields, frozen: true, named, entryKind: 0 };
}

function logRecord<const Shape extends z.core.$ZodLooseShape>(
  entryKind: number,
  meaning: string,
  fields: Shape,
  named: NamesBefore = {},
): Definition<'record', Shape> {
  return { role: 'record', meaning, fields, frozen: true, named, entryKind };
}

// Text that stands in the log shares one line with ten numbers, so it is bounded in bytes as well.
const label = () => text(16, 60);
const filter = () => text(8, 24);
const recipeName = () => nameText(20);
const boardName = () => text(16, 60);
const doseMs = () => integer(0, limits.longestDoseMs);
/** The relay is on for longer than the light lasts, by the lamp's lag each time it comes on again after a pause. */
const relayMs = () => integer(0, 9_999_999);
const offset120 = () => integer(-limits.offsetStops120, limits.offsetStops120);
const crc = () => hexDigits(8);

/**
 * What a laptop's clock may say when a board is told: one that lost its battery says less, and beyond it dates end that
 * programs can name. The log's own record is wider, since boards of before took anything.
 */
export const clockRangeMs = { min: Date.UTC(2000, 0, 1), max: Date.UTC(2100, 0, 1) - 1 };

// Common to every record of the log, in this order and first.
const logged = () => ({ boot: u16(), seq: u32(), uptimeMs: u32() });

// A bath as a printer sets it; what it is called must not be empty.
const bathTimes = () => ({
  label: label(),
  /** Draining is at the end of these and part of them; 0: that paper does not go in. */
  resinCoatedSeconds: u16(),
  fibreSeconds: u16(),
  drainSeconds: u8(),
  /** From one agitation to the next; 0 for none. */
  agitationSeconds: u8(),
  /** Area after which the bath is used up; 0 for no limit. */
  limitCm2: u32(),
});

// One of the times by temperature; the bath that it is of has that label. Between two of them the board reckons.
const bathPoint = () => ({
  point: integer(1, limits.bathPoints),
  label: label(),
  trayC10: integer(limits.coldestC10, limits.warmestC10),
  /** 0: none for that paper. */
  resinCoatedSeconds: u16(),
  fibreSeconds: u16(),
});

export const messages = {
  hello: frozenMessage(
    'request',
    'Opens a conversation; forgets the answers remembered from an earlier one.',
    {
      protocol: u16(),
      schemaHash: hexDigits(8),
      hostVersion: text(16, 16),
    },
  ),
  welcome: frozenMessage('answer', 'Who the board is, what it speaks, and how long it has been up.', {
    protocol: u16(),
    schemaHash: hexDigits(8),
    firmwareVersion: text(16, 16),
    boardId: hexDigits(16),
    boot: u16(),
    uptimeMs: u32(),
  }),
  ok: frozenMessage('answer', 'The request was carried out.', {}),
  error: frozenMessage('answer', 'The request was not carried out, and why.', {
    code: errorCode,
    text: text(64, 64),
    /** The offending field's place after the id, from 1; 0 when the trouble is not with one field. */
    field: u8(),
    low: integer(-0x8000_0000, 0x7fff_ffff),
    high: integer(-0x8000_0000, 0x7fff_ffff),
  }),
  ping: message('request', 'Are you there? Answered by `status`.', {}),
  status: message('answer', 'Where the board stands just now.', {
    state: runState,
    job,
    name: recipeName(),
    lensConfirmed: flag(),
    pedalStuck: flag(),
    oldestSeq: u32(),
    nextSeq: u32(),
    entriesLeft: u32(),
    recipes: u8(),
    /** Rises with every start, so that a board that started anew is known; as in `welcome`. */
    boot: u16(),
    uptimeMs: u32(),
  }),
  diagnose: message('request', 'Asks for the counters of trouble on the line. Answered by `counters`.', {}),
  counters: message('answer', 'What went wrong on the line since power-up, as the board saw it.', {
    badLines: u32(),
    badCrcs: u32(),
    longLines: u32(),
    repeats: u32(),
    refusals: u32(),
    noticesDropped: u32(),
    overruns: u32(),
    framingErrors: u32(),
    breaks: u32(),
    lostInRing: u32(),
    /** Log entries that found no room; exposures are refused before it comes to that. */
    entriesLost: u32(),
  }),
  'set-clock': message('request', "The laptop's time; the board logs it, so that entries have wall time.", {
    epochMs: integer(clockRangeMs.min, clockRangeMs.max),
  }),
  'get-setting': message('request', 'Asks for one setting. Answered by `setting`.', { name: settingName }),
  'set-setting': message('request', 'Changes one setting, kept over power-off. Answered by `setting`.', {
    name: settingName,
    value: integer(-0x8000_0000, 0x7fff_ffff),
  }),
  setting: message('answer', "One setting's value.", {
    name: settingName,
    value: integer(-0x8000_0000, 0x7fff_ffff),
  }),
  watch: message('request', 'Turns the unasked-for notices on or off.', { on: flag() }),
  'recipe-begin': frozenMessage('request', 'Starts an upload; an unfinished one is forgotten.', {
    name: recipeName(),
    passes: integer(1, limits.recipePasses),
    dodges: integer(0, limits.recipeDodges),
  }),
  'recipe-text': frozenMessage('request', 'One of the texts of the recipe being sent.', {
    which: recipeText,
    value: text(24),
  }),
  'recipe-head': frozenMessage('request', 'The figures of the recipe being sent.', {
    version: u16(),
    baseMs: integer(1, limits.longestDoseMs),
    aperture10: u16(),
    magnification1000: u32(),
    dryDown10: integer(0, 500),
  }),
  'recipe-pass': frozenMessage('request', 'The next pass of the recipe being sent, in order.', {
    pass: integer(1, limits.recipePasses),
    kind: passKind,
    label: label(),
    filter: filter(),
    stops120: offset120(),
    dodges: integer(0, limits.recipeDodges),
  }),
  'recipe-dodge': frozenMessage('request', 'The next dodge of the pass sent last, in order.', {
    label: label(),
    stops120: offset120(),
  }),
  'recipe-fine': frozenMessage(
    'request',
    'What an offset of the recipe being sent has beyond whole 1/120 stop; nothing where it is not sent.',
    {
      /** From 1: the passes in order, then all dodges in order. */
      offset: integer(1, limits.recipePasses + limits.recipeDodges),
      /** In 1/3,000,000 stop, to be added: half of 1/120 stop at most. */
      fine3M: integer(-limits.fineParts / 2, limits.fineParts / 2),
    },
  ),
  'recipe-commit': message('request', 'Keeps the upload, all of it or nothing.', {
    /** CRC-32 of the checksums (8 hex digits each) of every line from recipe-begin to the last part, in order. */
    whole: crc(),
  }),
  'recipe-list': message('request', 'Asks for the recipes kept, a `recipe-line` each, then `ended`.', {}),
  'recipe-line': message('answer', 'One recipe kept on the board.', {
    name: recipeName(),
    version: u16(),
    title: text(24),
    passes: u8(),
    baseMs: integer(0, limits.longestDoseMs),
    bodyCrc: crc(),
    /** False when what lies on the flash is not what was kept: then only its name is told. */
    intact: flag(),
  }),
  'recipe-get': message('request', 'Asks for a whole recipe: the lines that would upload it, then `ended`.', {
    name: recipeName(),
  }),
  'recipe-remove': message('request', 'Removes a recipe.', { name: recipeName() }),
  choose: message('request', 'What the pedal will start next; the lamp stays as it is.', {
    job,
    name: recipeName(),
  }),
  'strip-set': message('request', 'The strip that the pedal will start next. Answered by `ok`.', {
    firstMs: integer(1, limits.longestDoseMs),
    stepStops120: integer(0, limits.offsetStops120),
    stepMs: integer(0, limits.longestDoseMs),
    patches: integer(2, limits.stripPatches),
    cover,
    filter: filter(),
  }),
  'bath-set': message('request', 'The next bath of a row; the whole row is kept with its last one.', {
    bath: integer(1, limits.baths),
    baths: integer(1, limits.baths),
    ...bathTimes(),
  }),
  'bath-get': message(
    'request',
    'Asks for one of the baths. Answered by `bath`, or not-found past the last.',
    {
      bath: integer(1, limits.baths),
    },
  ),
  bath: frozenMessage('answer', 'A bath, and what has gone through it since it was mixed.', {
    bath: integer(1, limits.baths),
    baths: integer(1, limits.baths),
    ...bathTimes(),
    sheets: u16(),
    areaCm2: u32(),
  }),
  'bath-renew': message('request', 'The bath was mixed fresh: its tally starts from nothing.', {
    bath: integer(1, limits.baths),
  }),
  'point-set': message(
    'request',
    'The next time by temperature; all of them are kept with the last one, in place of those before.',
    { ...bathPoint(), points: integer(1, limits.bathPoints) },
  ),
  'point-get': message(
    'request',
    'Asks for one of the times by temperature. Answered by `bath-point`, or not-found past the last.',
    { point: integer(1, limits.bathPoints) },
  ),
  'points-clear': message('request', 'No bath has times by temperature any more.', {}),
  'bath-point': frozenMessage('answer', 'How long paper stays in a bath of that temperature.', {
    ...bathPoint(),
    points: integer(1, limits.bathPoints),
  }),
  'name-set': message('request', 'What the printer calls this board; empty for no name.', {
    name: boardName(),
  }),
  'name-get': message('request', 'Asks what the printer calls this board. Answered by `board-name`.', {}),
  'board-name': frozenMessage('answer', 'What the printer calls this board; empty where it has no name.', {
    name: boardName(),
  }),
  ended: frozenMessage('answer', 'The end of a list, with the count of its lines.', { count: u16() }),
  collect: frozenMessage(
    'request',
    'Asks for log records from a sequence number on; then `collected`.',
    {
      fromSeq: u32(),
      count: integer(1, limits.collectRecords),
    },
    { 1: 'pull' },
  ),
  collected: frozenMessage(
    'answer',
    'The end of a collection: where the next one starts, and where the log ends.',
    {
      nextSeq: u32(),
      endSeq: u32(),
    },
    { 1: 'pulled' },
  ),
  forget: frozenMessage('request', 'The records up to and with this one are safely kept elsewhere.', {
    uptoSeq: u32(),
  }),
  'make-way': frozenMessage(
    'request',
    'May new firmware take the place of this one? Whether a hand at the knob is to be asked, or only how that stands.',
    { ask: flag() },
  ),
  way: frozenMessage('answer', 'Whether the hand was asked, and has allowed it.', { stands: makingWay }),

  started: logRecord(1, 'The board started.', { ...logged(), cause: startCause, detail: u32() }),
  clock: logRecord(2, "The laptop's time at this moment of the board's.", {
    ...logged(),
    epochMs: integer(0, Number.MAX_SAFE_INTEGER),
  }),
  sheet: logRecord(3, 'A new sheet of paper was begun.', {
    ...logged(),
    sheet: u16(),
    job,
    recipe: recipeName(),
    version: u16(),
    baseMs: integer(0, limits.longestDoseMs),
    stepStops120: integer(0, limits.offsetStops120),
    stepMs: integer(0, limits.longestDoseMs),
    patches: u8(),
    cover,
  }),
  exposure: logRecord(4, 'Light on paper: one pass, one patch, or light for focusing.', {
    ...logged(),
    kind: exposureKind,
    recipe: recipeName(),
    pass: u8(),
    patch: u8(),
    label: label(),
    filter: filter(),
    plannedMs: doseMs(),
    onMs: relayMs(),
    doseMs: doseMs(),
    outcome,
    pauses: u8(),
    sheet: u16(),
  }),
  lens: logRecord(5, 'The printer confirmed that the lens is stopped down.', { ...logged() }),
  'pedal-stuck': logRecord(6, 'The pedal was down at power-up or too long.', {
    ...logged(),
    heldMs: u32(),
  }),
  'strip-reading': logRecord(
    7,
    'What the printer saw on a strip, and the time that follows from it.',
    {
      ...logged(),
      sheet: u16(),
      verdict,
      /** The patch, or the lighter one of the two; 0 where there is none. */
      patch: u8(),
      doseMs: doseMs(),
    },
    { 1: 'seen' },
  ),
  'recipe-change': logRecord(
    8,
    'The knob changed the recipe in use.',
    {
      ...logged(),
      recipe: recipeName(),
      what: turnable,
      pass: u8(),
      dodge: u8(),
      baseMs: doseMs(),
      stops120: offset120(),
    },
    { 1: 'turned' },
  ),
  'recipe-version': logRecord(
    9,
    'The recipe in use was kept on the board as a new version.',
    {
      ...logged(),
      recipe: recipeName(),
      version: u16(),
    },
    { 1: 'kept' },
  ),
  'stopped-down': logRecord(
    10,
    'The lens was closed further, and the base made longer to match.',
    {
      ...logged(),
      stops: u8(),
      baseMs: doseMs(),
    },
    { 1: 'lens-closed' },
  ),
  'sheet-ended': logRecord(11, 'A sheet is finished or given up; the tally since the board started.', {
    ...logged(),
    sheet: u16(),
    outcome,
    prints: u16(),
    /** Brackets and tests as well. */
    strips: u16(),
    wasted: u16(),
  }),
  'bath-used': logRecord(12, 'Sheets went through a bath; no sheets and no time: it was mixed fresh.', {
    ...logged(),
    bath: u8(),
    label: label(),
    sheets: u8(),
    plannedMs: u32(),
    givenMs: u32(),
    /** How long the paper had been out when it came to its first bath; 0 for later ones. */
    outMs: u32(),
    totalSheets: u16(),
    totalCm2: u32(),
  }),
  'test-result': logRecord(
    13,
    'A test on paper was read, and the setting that it is about was set.',
    {
      ...logged(),
      what: finding,
      value: integer(-0x8000_0000, 0x7fff_ffff),
    },
    { 1: 'found' },
  ),
  development: logRecord(
    14,
    'How the time of a bath came about, where the row of baths does not say it alone; told before `bath-used`.',
    {
      ...logged(),
      bath: u8(),
      /** Of the tray, where the time is by that; 0 where not. */
      trayC10: u16(),
      /** When the first tone showed, and what its time was taken times; 0 and 0 where it was not waited for. */
      firstToneMs: u32(),
      factor: u8(),
      plannedMs: u32(),
    },
  ),

  'sheet-resumed': logRecord(15, 'A sheet that was given up is gone on with; the tally without it.', {
    ...logged(),
    sheet: u16(),
    prints: u16(),
    strips: u16(),
    wasted: u16(),
  }),
  'sheet-unused': logRecord(16, 'A sheet that was begun never saw light: the next one has its number.', {
    ...logged(),
    sheet: u16(),
  }),
  'recipe-taken': logRecord(
    17,
    'A recipe was taken from the shelf while another, or it itself, was turned: what was not kept of that is gone.',
    {
      ...logged(),
      recipe: recipeName(),
      version: u16(),
    },
  ),

  moved: message('notice', 'The evening went on to another state.', {
    uptimeMs: u32(),
    state: runState,
    pass: u8(),
    piece: u8(),
    label: label(),
    /** A bath may take longer than any exposure. */
    remainingMs: u32(),
  }),
  lamp: message('notice', 'The lamp went on, or off after so long.', {
    uptimeMs: u32(),
    on: flag(),
    onUs: u32(),
  }),
  shown: message('notice', 'A row of the display changed.', {
    row: u8(),
    text: text(limits.displayColumns, limits.displayColumns * 2),
  }),
  checked: message('notice', 'A step of the checkup is over.', {
    step: checkupStep,
    isFine: flag(),
    /** Pedal: bounces and milliseconds of contact. Knob: clicks right and left. Flash: bad sectors and free ones. */
    first: u32(),
    second: u32(),
  }),
} as const satisfies Record<string, Definition<Role, z.core.$ZodLooseShape>>;

export type MessageType = keyof typeof messages;
/** The messages of one role. */
export type TypeOfRole<Says extends Role> = {
  [Type in MessageType]: (typeof messages)[Type]['role'] extends Says ? Type : never;
}[MessageType];
type ShapeOf<Type extends MessageType> = (typeof messages)[Type]['fields'];
export type Fields<Type extends MessageType> = keyof ShapeOf<Type> extends never
  ? unknown
  : z.infer<z.ZodObject<ShapeOf<Type>>>;
export type MessageOf<Type extends MessageType> = {
  [Key in Type]: { type: Key; id: number } & Fields<Key>;
}[Type];
export type Message = MessageOf<MessageType>;
export const messageTypes = Object.keys(messages) as MessageType[];
