/** A row of baths on its way in, one bath a request; only a whole one takes the place of the row in use. */
import { Bath, BathSet } from '../generated/codec';
import { copyText, isEmptyText, sameText } from '../protocol/texts';
import { keeping } from '../state/state';
import { BATH_ROW_BYTES, bathAt, bathCount, bathRow, setCount } from './baths';

export const incomingBaths: usize = memory.data(BATH_ROW_BYTES, 8);

export enum Taken {
  Part,
  Whole,
  OutOfOrder,
  NoLabel,
  /** A tally goes by the label: two baths of one would share it, and a used one look fresh. */
  SameLabel,
}
/** The first bath starts the row anew, whatever came before it. */
export function takeBath(from: BathSet): Taken {
  if (isEmptyText(from.label)) return Taken.NoLabel;
  if (from.bath == 1) startRow(from.baths);
  const isNext = i32(from.bath) == keeping.bathsTaken + 1;
  if (!isNext || from.bath > from.baths || from.baths != rowComing().baths) return Taken.OutOfOrder;
  if (isLabelTaken(from)) return Taken.SameLabel;
  copyBath(from);
  keeping.bathsTaken++;
  if (from.bath < from.baths) return Taken.Part;
  keeping.bathsTaken = 0;
  return Taken.Whole;
}

/** By an earlier bath of the row that is coming. */
function isLabelTaken(from: BathSet): bool {
  for (let before = 0; before < i32(from.bath) - 1; before++)
    if (sameText(bathAt(incomingBaths, before).label, from.label)) return true;
  return false;
}

/** Its first bath says of how many. */
function rowComing(): Bath {
  return bathAt(incomingBaths, 0);
}

function startRow(baths: u8): void {
  memory.fill(incomingBaths, 0, BATH_ROW_BYTES);
  rowComing().baths = baths;
  keeping.bathsTaken = 0;
}

function copyBath(from: BathSet): void {
  const bath = bathAt(incomingBaths, from.bath - 1);
  bath.bath = from.bath;
  bath.baths = from.baths;
  copyText(bath.label, from.label);
  bath.resinCoatedSeconds = from.resinCoatedSeconds;
  bath.fibreSeconds = from.fibreSeconds;
  bath.drainSeconds = from.drainSeconds;
  bath.agitationSeconds = from.agitationSeconds;
  bath.limitCm2 = from.limitCm2;
}

/** A bath keeps its tally when only its times change: it is the same one by its label. */
export function keepCounts(): void {
  for (let index = 0; index < i32(rowComing().baths); index++) {
    const bath = bathAt(incomingBaths, index);
    for (let before = 0; before < bathCount(); before++) {
      const was = bathAt(bathRow, before);
      if (sameText(was.label, bath.label)) setCount(bath, was.sheets, was.areaCm2);
    }
  }
}

/** The row in use, with bath `index` mixed fresh, as the incoming one. */
export function mixIncoming(index: i32): void {
  keeping.bathMixed = index;
  memory.copy(incomingBaths, bathRow, BATH_ROW_BYTES);
  setCount(bathAt(incomingBaths, index), 0, 0);
  keeping.bathsTaken = 0;
}

/** The shelf has it: it is the row in use from now on. */
export function useIncomingBaths(): void {
  memory.copy(bathRow, incomingBaths, BATH_ROW_BYTES);
}
