/** The filter under which a pass is given. */
import { ExposureKind } from '../generated/constants';
import { eveningPlan } from '../plan/plan';
import { chosenStrip } from '../state/state';
import { plainFilter } from './plain/plain-light';
import { passFilter } from './recipe/labels';

/** Of a pass of the plan (from 0), as a text; empty where none is named. */
export function filterOfPass(index: i32): usize {
  switch (<ExposureKind>eveningPlan.pass(index).kind) {
    case ExposureKind.Strip:
      return chosenStrip.filter;
    case ExposureKind.Plain:
      return plainFilter();
    default:
      return passFilter(index);
  }
}
