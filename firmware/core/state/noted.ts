/** A sheet that can be gone on with: what was given of it and what it is given from, noted beside what is chosen next. */
import { STRIP_SET_BYTES, StripSet } from '../generated/codec';
import { Chosen } from './chosen';
import { Given } from './given';

const CHOSEN_AT: usize = (offsetof<Given>() + 7) & ~7;
const STRIP_AT: usize = CHOSEN_AT + ((offsetof<Chosen>() + 7) & ~7);
const SPREAD_AT: usize = STRIP_AT + STRIP_SET_BYTES;
export const NOTED_BYTES: i32 = i32(SPREAD_AT) + STRIP_SET_BYTES;

/** All of it in one piece, as the desk has it. */
export const noted: usize = memory.data(NOTED_BYTES, 8);
export const leftGiven = changetype<Given>(noted);
export const leftChosen = changetype<Chosen>(noted + CHOSEN_AT);
export const leftStrip = changetype<StripSet>(noted + STRIP_AT);
export const leftSpread = changetype<StripSet>(noted + SPREAD_AT);
