/** Times by temperature on their way in, one a request; only all of them take the place of those in use. */
import { BATH_POINT_BYTES, BathPoint, PointSet } from '../generated/codec';
import { isEmptyText } from '../protocol/texts';
import { keeping } from '../state/state';
import { Taken } from './incoming-baths';
import { POINT_ROW_BYTES, pointAt, pointRow } from './points';

export const incomingPoints: usize = memory.data(POINT_ROW_BYTES, 8);

/** The first one starts them anew, whatever came before it. */
export function takePoint(from: PointSet): Taken {
  if (isEmptyText(from.label)) return Taken.NoLabel;
  const first = pointAt(incomingPoints, 0);
  if (from.point == 1) {
    memory.fill(incomingPoints, 0, POINT_ROW_BYTES);
    first.points = from.points;
    keeping.pointsTaken = 0;
  }
  const isNext = i32(from.point) == keeping.pointsTaken + 1;
  if (!isNext || from.point > from.points || from.points != first.points) return Taken.OutOfOrder;
  copyPoint(from, pointAt(incomingPoints, from.point - 1));
  keeping.pointsTaken++;
  if (from.point < from.points) return Taken.Part;
  keeping.pointsTaken = 0;
  return Taken.Whole;
}

/** The two records have the same fields in the same order. */
function copyPoint(from: PointSet, to: BathPoint): void {
  memory.copy(changetype<usize>(to), changetype<usize>(from), BATH_POINT_BYTES);
}

/** The shelf has them: they are in use from now on. */
export function useIncomingPoints(): void {
  memory.copy(pointRow, incomingPoints, POINT_ROW_BYTES);
}
