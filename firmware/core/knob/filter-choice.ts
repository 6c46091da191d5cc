/** The filters that the knob offers: none, and those of the usual sets, softest first (their numbers: common practice). */
import { ascii, sameText } from '../protocol/texts';

const FILTERS: i32 = 12;

/** Filter `place` from 0, as a text; the first is none. */
export function offeredFilter(place: i32): usize {
  switch (place) {
    case 1:
      return ascii('00');
    case 2:
      return ascii('0');
    case 3:
      return ascii('1');
    case 4:
      return ascii('1 1/2');
    case 5:
      return ascii('2');
    case 6:
      return ascii('2 1/2');
    case 7:
      return ascii('3');
    case 8:
      return ascii('3 1/2');
    case 9:
      return ascii('4');
    case 10:
      return ascii('4 1/2');
    case 11:
      return ascii('5');
    default:
      return ascii('');
  }
}

/** Where a filter stands among them; one of the laptop's own stands where there is none. */
export function placeOfFilter(filter: usize): i32 {
  for (let place = 0; place < FILTERS; place++) if (sameText(filter, offeredFilter(place))) return place;
  return 0;
}

export function filterPlaceAfter(place: i32, clicks: i32): i32 {
  return max(0, min(FILTERS - 1, place + clicks));
}
