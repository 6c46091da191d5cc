/** A print as it was noted in seconds, '10 s, 3 s dodge, 8 s burn', read into a base and stops. */
import { loadPlanner, type Planner } from './planner/index.js';
import { readField } from './reading/read-field.js';
import type { RecipeDodge, RecipePass } from './recipe.js';
import { recipeFile } from './recipe-file.js';
import { timeFromPlainKeys } from './text/plain-keys.js';
import { formatTime, readExposure } from './text/time-text.js';
import { UnreadableText } from './text/unreadable-text.js';

/** A time of the notes, and what it became: the same to 1 ms. */
export interface NotedTime {
  readonly kind: 'dodge' | 'burn';
  readonly label: string;
  readonly wantedMs: number;
  readonly stops120: number;
  readonly doseMs: number;
}

export interface OldNotes {
  readonly baseMs: number;
  /** 0 where the notes do not say. */
  readonly aperture10: number;
  readonly passes: readonly RecipePass[];
  readonly times: readonly NotedTime[];
}

export const NOTES_EXAMPLE = '10 s, 3 s dodge, 8 s burn';

type Kind = 'base' | NotedTime['kind'];

interface Piece {
  readonly kind: Kind;
  readonly text: string;
  readonly ms: number;
  readonly label: string;
  readonly filter: string | undefined;
}

/**
 * Reads pieces between commas, semicolons or line ends: one time alone is the base; a time with 'dodge' or 'burn' is light
 * held back, or added, there, and other words beside it are the area's name. 'f/8' and 'filter 2' may stand among them.
 * A burn is log2(1 + t/base) stops, a dodge log2(1 - t/base): arithmetic of stops.
 * @throws UnreadableText that quotes the piece
 */
export function readOldNotes(text: string): OldNotes {
  refuseDoubtfulCommas(text);
  const pieces = text
    .split(BETWEEN)
    .map((piece) => piece.trim())
    .filter((piece) => piece !== '');
  const lens = pieces.filter((piece) => LENS.test(piece));
  const filters = pieces.filter((piece) => FILTER_ALONE.test(piece));
  const times = pieces.filter((piece) => !lens.includes(piece) && !filters.includes(piece)).map(pieceOf);
  const base = onlyBase(times);
  const filter =
    only(
      'filters',
      filters.map((piece) => FILTER.exec(piece)![1]!),
    ) ??
    base.filter ??
    '';
  const planner = loadPlanner();
  const noted = labelled(times.filter(({ kind }) => kind !== 'base')).map((piece) => ({
    piece,
    time: timeInStops(planner, base.ms, piece),
  }));
  return {
    baseMs: base.ms,
    aperture10: apertureOf(only('lens stops', lens)),
    passes: [
      {
        ...{ kind: 'base', label: 'base', filter: readFilter(filter), stops120: 0 },
        dodges: noted.filter(({ time }) => time.kind === 'dodge').map(({ time }) => dodgeOf(time)),
      },
      ...noted
        .filter(({ time }) => time.kind === 'burn')
        .map(({ piece, time }) => burnOf(time, readFilter(piece.filter ?? filter))),
    ],
    times: noted.map(({ time }) => time),
  };
}

const BETWEEN = /[,;\n]+|\s*\+\s*(?=\d)|\s+(?:and|then|plus)\s+(?=\d)/i;
const LENS = /^f\s*\/?\s*\d/i;
const FILTER = /\b(?:through\s+)?(?:filter|grade)\s*(\d\s+1\/2|[^\s,;]+)/i;
const FILTER_ALONE = new RegExp(`^${FILTER.source}$`, 'i');
const TIME =
  /(?<![\w.])\d+(?:\.\d+)?\s*(?:(?:h|min|ms|m|s)(?![a-z])(?:\s*\d+(?:\.\d+)?\s*(?:min|ms|m|s)(?![a-z]))*)?/i;
const DODGE = /\b(?:dodg(?:e[ds]?|ing)|h(?:o|e)ld\s*back)\b/i;
const BURN = /\bburn(?:s|ed|t|ing)?(?:\s+in)?\b/i;
/** Words that say nothing more. */
const FILLER = /\b(?:base|exposure|for|of|the|in|on|at|with|and|then|plus)\b|[+:()]/gi;

function refuseDoubtfulCommas(text: string): void {
  const doubtful = /\d+,\d+/.exec(text)?.[0];
  if (doubtful !== undefined)
    throw new UnreadableText(
      `'${doubtful}' could be one time or two; write a point for a part of a second (${doubtful.replace(',', '.')}), and a blank after a comma between times`,
    );
}

function pieceOf(piece: string): Piece {
  const filter = FILTER.exec(piece)?.[1];
  const words = timeFromPlainKeys(piece.replace(FILTER, ' '));
  const time = TIME.exec(words)?.[0];
  if (time === undefined) throw notUnderstood(piece, 'has no time');
  const rest = words.replace(time, ' ');
  const kinds = [DODGE.test(rest) && 'dodge', BURN.test(rest) && 'burn'].filter((kind) => kind !== false);
  if (kinds.length > 1) throw notUnderstood(piece, 'is both a dodge and a burn');
  const label = rest.replace(DODGE, ' ').replace(BURN, ' ').replace(FILLER, ' ').replace(/\s+/g, ' ').trim();
  const kind = (kinds[0] ?? 'base') as Kind;
  if (kind === 'base' && label !== '')
    throw notUnderstood(piece, `does not say whether '${label}' is dodged or burnt`);
  return { kind, text: piece, ms: readExposure(time), label, filter };
}

function notUnderstood(piece: string, why: string): UnreadableText {
  return new UnreadableText(
    `'${piece}' ${why}; write the base's time, and each other one with 'dodge' or 'burn': ${NOTES_EXAMPLE}, or 8 s burn sky`,
  );
}

function onlyBase(pieces: readonly Piece[]): Piece {
  const [base, other] = pieces.filter(({ kind }) => kind === 'base');
  if (base === undefined) throw notUnderstood(pieces[0]?.text ?? '', 'leaves out the base');
  if (other !== undefined) throw notUnderstood(other.text, `would be a second base beside '${base.text}'`);
  return base;
}

function only(what: string, found: readonly string[]): string | undefined {
  if (found.length > 1)
    throw new UnreadableText(`there are two ${what}, '${found[0]}' and '${found[1]}'; write one`);
  return found[0];
}

/** What has no name is called by what is done there: 'burn', 'burn 2'. */
function labelled(pieces: readonly Piece[]): Piece[] {
  const seen = { base: 0, dodge: 0, burn: 0 };
  return pieces.map((piece) => {
    const { kind, label } = piece;
    const number = label === '' ? ++seen[kind] : 0;
    return label === '' ? { ...piece, label: number === 1 ? kind : `${kind} ${number}` } : piece;
  });
}

function timeInStops(planner: Planner, baseMs: number, { kind, label, ms, text }: Piece): NotedTime {
  if (kind === 'dodge' && ms >= baseMs)
    throw notUnderstood(text, `holds back as much as the whole base of ${formatTime(baseMs)}`);
  const done = kind === 'dodge' ? 'dodge' : 'burn';
  const stops120 = planner.offset120(done, baseMs, ms);
  const doseMs =
    stops120 === undefined
      ? undefined
      : done === 'dodge'
        ? planner.dodgeMs(baseMs, stops120)
        : planner.burnMs(baseMs, stops120);
  if (stops120 === undefined || doseMs === undefined)
    throw notUnderstood(text, `is not between 1/120 and 10 stops of a base of ${formatTime(baseMs)}`);
  return { kind: done, label, wantedMs: ms, stops120, doseMs };
}

const [basePass, burnPass] = recipeFile.shape.passes.element.options;
const dodgeFields = basePass.shape.dodges.unwrap().element.shape;

function dodgeOf({ label, stops120 }: NotedTime): RecipeDodge {
  return { label: readField(dodgeFields.label, label), stops120 };
}

function burnOf({ label, stops120 }: NotedTime, filter: string): RecipePass {
  return { kind: 'burn', label: readField(burnPass.shape.label, label), filter, stops120, dodges: [] };
}

function readFilter(filter: string): string {
  return readField(burnPass.shape.filter, filter);
}

function apertureOf(piece: string | undefined): number {
  if (piece === undefined) return 0;
  return readField(recipeFile.shape.aperture.unwrap(), piece.replace(/\s/g, ''));
}
