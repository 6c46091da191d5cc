/**
 * What lies on the desk and survives power-off: the sheet that was given and not read yet, one that has not had all its
 * light (see kept-sheet.ts), the strip that is chosen, and
 * whether the recipe in use is as the shelf has it. 32 bits a figure in the order of Desk, then texts.
 */
import { StripSet } from '../generated/codec';
import { Job } from '../generated/constants';
import { isOfRecipe, isRead } from '../jobs/kinds';
import { FINE, takeRecipe, takeUnkeptRecipe } from '../jobs/recipe/recipe-in-use';
import { ascii, copyText } from '../protocol/texts';
import { hasRecipe, nameInUse } from '../recipe/recipe';
import { chosen, chosenStrip, paper, reading, readStrip, situation } from '../state/state';
import { DocumentKind, readWhole } from '../storage/shelf';
import { KEPT_SHEET_BYTES, layKeptSheet, openKeptSheet } from './kept-sheet';

enum Desk {
  Unread,
  Sheet,
  BracketPass,
  BracketFirstStops120,
  Job,
  Flags,
  ChosenStrip,
  ReadStrip = 11, // five figures a strip
  Count = 16,
}
enum Flag {
  RecipeIsChanged = 1,
  BaseIsFound = 2,
  NewNegative = 4,
  ReadNewNegative = 8,
  TurnsAreGone = 16,
}
const FILTER_ROOM: usize = 28;
const NAME_ROOM: usize = 24;
const TEXTS_AT: usize = Desk.Count << 2;
const NAME_AT: usize = TEXTS_AT + 2 * FILTER_ROOM;
const SHEET_AT: usize = NAME_AT + NAME_ROOM;
export const DESK_BYTES: i32 = i32(SHEET_AT) + KEPT_SHEET_BYTES;

/** Whole words: what is behind the desk's bytes stays zero. */
const DESK_ROOM: i32 = (DESK_BYTES + 7) & ~7;

/** As it is, and as the shelf has it or is being handed it. */
const desk: usize = memory.data(DESK_ROOM, 8);
export const keptDesk: usize = memory.data(DESK_ROOM, 8);

/** The name (a text) under which the shelf keeps it, and the recipe that lies on it. */
export function deskName(): usize {
  return ascii('desk');
}

/** True when it is not as the shelf has it; then `keptDesk` is what is to be kept. */
export function deskHasChanged(): bool {
  layDesk();
  if (isAsKept()) return false;
  memory.copy(keptDesk, desk, DESK_BYTES);
  return true;
}

/** By words: asked after every event, and memory.compare goes byte by byte where the core is made small. */
function isAsKept(): bool {
  for (let at: usize = 0; at < usize(DESK_ROOM); at += 8) {
    if (load<u64>(desk + at) != load<u64>(keptDesk + at)) return false;
  }
  return true;
}

/** The flash did not take it. No kind of work is such a number. */
export function forgetKeptDesk(): void {
  store<i32>(keptDesk, -1, Desk.Unread << 2);
}

function figure(at: i32): i32 {
  return load<i32>(desk + (at << 2));
}

function setFigure(at: i32, value: i32): void {
  store<i32>(desk + (at << 2), value);
}

function layDesk(): void {
  memory.fill(desk, 0, DESK_BYTES);
  layKeptSheet(desk + SHEET_AT, keptDesk + SHEET_AT);
  setFigure(Desk.Unread, reading.unread);
  if (reading.unread != Job.None) {
    setFigure(Desk.Sheet, reading.sheet);
    setFigure(Desk.BracketPass, reading.pass);
    setFigure(Desk.BracketFirstStops120, reading.firstStops120);
    layStrip(Desk.ReadStrip, TEXTS_AT + FILTER_ROOM, readStrip);
  }
  layStrip(Desk.ChosenStrip, TEXTS_AT, chosenStrip);
  setFigure(Desk.Flags, flagsNow());
  // Where nothing is to be gone on with, an evening begins as every other.
  if (!chosen.recipeIsChanged && reading.unread == Job.None) return;
  setFigure(Desk.Job, situation.job);
  copyText(desk + NAME_AT, nameInUse());
}

function flagsNow(): i32 {
  let flags = 0;
  if (chosen.recipeIsChanged) flags |= Flag.RecipeIsChanged;
  if (chosen.baseIsFound) flags |= Flag.BaseIsFound;
  if (chosen.isNewNegative) flags |= Flag.NewNegative;
  if (reading.isNewNegative) flags |= Flag.ReadNewNegative;
  if (chosen.turnsAreGone) flags |= Flag.TurnsAreGone;
  return flags;
}

function layStrip(at: i32, filterAt: usize, strip: StripSet): void {
  setFigure(at, i32(strip.firstMs));
  setFigure(at + 1, i32(strip.stepStops120));
  setFigure(at + 2, i32(strip.stepMs));
  setFigure(at + 3, i32(strip.patches));
  setFigure(at + 4, i32(strip.cover));
  copyText(desk + filterAt, strip.filter);
}

function takeStrip(at: i32, filterAt: usize, strip: StripSet): void {
  strip.firstMs = figure(at);
  strip.stepStops120 = u16(figure(at + 1));
  strip.stepMs = figure(at + 2);
  strip.patches = u8(figure(at + 3));
  strip.cover = u8(figure(at + 4));
  copyText(strip.filter, desk + filterAt);
}

/** After power-up: what lay there. A damaged document counts as none. */
export function openDesk(nowUs: i64): void {
  forgetKeptDesk();
  // One of before has no sheet behind it.
  if (readWhole(DocumentKind.Desk, deskName(), desk, DESK_BYTES) < i32(SHEET_AT)) {
    deskHasChanged(); // an empty one need not be kept
    return;
  }
  memory.copy(keptDesk, desk, DESK_BYTES);
  takeStrip(Desk.ChosenStrip, TEXTS_AT, chosenStrip);
  const flags = figure(Desk.Flags);
  chosen.isNewNegative = (flags & Flag.NewNegative) != 0;
  reading.isNewNegative = (flags & Flag.ReadNewNegative) != 0;
  chosen.turnsAreGone = (flags & Flag.TurnsAreGone) != 0;
  if ((flags & Flag.RecipeIsChanged) != 0 && takeUnkeptRecipe()) {
    chosen.recipeIsChanged = true;
    chosen.baseIsFound = (flags & Flag.BaseIsFound) != 0;
  }
  takeUnread();
  openKeptSheet(desk + SHEET_AT, nowUs);
  const job = figure(Desk.Job);
  if (job != Job.None && (!isOfRecipe(job) || hasRecipe())) situation.job = job;
}

/** What is found on a strip is for the recipe that was in use; the bracket of one that is gone cannot be read. */
function takeUnread(): void {
  const unread = figure(Desk.Unread);
  if (!isRead(unread)) return;
  if (!hasRecipe() && takeRecipe(desk + NAME_AT) != FINE && isOfRecipe(unread)) return;
  reading.unread = unread;
  reading.sheet = figure(Desk.Sheet);
  // The sheets that follow have numbers of their own, so that what is read stays told apart.
  paper.sheet = reading.sheet;
  reading.pass = figure(Desk.BracketPass);
  reading.firstStops120 = figure(Desk.BracketFirstStops120);
  takeStrip(Desk.ReadStrip, TEXTS_AT + FILTER_ROOM, readStrip);
}
