/**
 * All that the core remembers of an evening, beside the records that lie in memory as the codec has them: one block,
 * emptied by zeroing it. What the exploration of the core does not tell apart, or not finely, is marked beside the
 * field: `explored: not`, `up to N`, `in steps of N`, `whether it is past`, `while a step is under way`.
 */
import { STRIP_SET_BYTES, StripSet } from '../generated/codec';
import { Calendar } from './calendar';
import { Checkup } from './checkup';
import { Chosen } from './chosen';
import { Contact } from './contact';
import { Given } from './given';
import { Hands } from './hands';
import { Keeping } from './keeping';
import { Left } from './left';
import { Light } from './light';
import { Paper } from './paper';
import { STATE, STATE_ROOM } from './place';
import { Reading } from './reading';
import { Situation } from './situation';
import { Timed } from './timed';
import { Told } from './told';

export const TIMER_COUNT: i32 = 10;
/** A filter as a recipe has it: a length byte, and 24 of text. */
const FILTER_BYTES: usize = 25;

// Each at the next multiple of 8.
const LIGHT_AT: usize = (offsetof<Situation>() + 7) & ~7;
const CHOSEN_AT: usize = (LIGHT_AT + offsetof<Light>() + 7) & ~7;
const LEFT_AT: usize = (CHOSEN_AT + offsetof<Chosen>() + 7) & ~7;
const PAPER_AT: usize = (LEFT_AT + offsetof<Left>() + 7) & ~7;
const GIVEN_AT: usize = (PAPER_AT + offsetof<Paper>() + 7) & ~7;
const READING_AT: usize = (GIVEN_AT + offsetof<Given>() + 7) & ~7;
const TIMED_AT: usize = (READING_AT + offsetof<Reading>() + 7) & ~7;
const KEEPING_AT: usize = (TIMED_AT + offsetof<Timed>() + 7) & ~7;
const HANDS_AT: usize = (KEEPING_AT + offsetof<Keeping>() + 7) & ~7;
const PEDAL_AT: usize = (HANDS_AT + offsetof<Hands>() + 7) & ~7;
const KNOB_AT: usize = (PEDAL_AT + offsetof<Contact>() + 7) & ~7;
const TOLD_AT: usize = (KNOB_AT + offsetof<Contact>() + 7) & ~7;
const CALENDAR_AT: usize = (TOLD_AT + offsetof<Told>() + 7) & ~7;
const CHECKUP_AT: usize = (CALENDAR_AT + offsetof<Calendar>() + 7) & ~7;
const STRIP_AT: usize = (CHECKUP_AT + offsetof<Checkup>() + 7) & ~7;
const BRACKET_AT: usize = (STRIP_AT + STRIP_SET_BYTES + 7) & ~7;
const READ_STRIP_AT: usize = (BRACKET_AT + STRIP_SET_BYTES + 7) & ~7;
const FILTER_AT: usize = READ_STRIP_AT + STRIP_SET_BYTES;
const TIMERS_AT: usize = (FILTER_AT + FILTER_BYTES + 7) & ~7;
const STATE_BYTES: usize = TIMERS_AT + (TIMER_COUNT << 3);

export const situation = changetype<Situation>(STATE);
export const light = changetype<Light>(STATE + LIGHT_AT);
export const chosen = changetype<Chosen>(STATE + CHOSEN_AT);
export const left = changetype<Left>(STATE + LEFT_AT);
export const paper = changetype<Paper>(STATE + PAPER_AT);
export const given = changetype<Given>(STATE + GIVEN_AT);
export const reading = changetype<Reading>(STATE + READING_AT);
export const timed = changetype<Timed>(STATE + TIMED_AT);
export const keeping = changetype<Keeping>(STATE + KEEPING_AT);
export const hands = changetype<Hands>(STATE + HANDS_AT);
export const pedalContact = changetype<Contact>(STATE + PEDAL_AT);
export const knobContact = changetype<Contact>(STATE + KNOB_AT);
export const told = changetype<Told>(STATE + TOLD_AT);
export const calendar = changetype<Calendar>(STATE + CALENDAR_AT);
export const checkup = changetype<Checkup>(STATE + CHECKUP_AT);
/** The strip that is chosen, the patches of a bracket, and those of the sheet that is to be read. */
export const chosenStrip = changetype<StripSet>(STATE + STRIP_AT);
export const bracketSpread = changetype<StripSet>(STATE + BRACKET_AT);
export const readStrip = changetype<StripSet>(STATE + READ_STRIP_AT);
/** A text: the filter that was in for the light given last, as far as anybody knows; empty after power-up. */
export const filterIn: usize = STATE + FILTER_AT;
/** When each Timer is due, an i64 each. */
export const timersDue: usize = STATE + TIMERS_AT;

/** After power-up: nothing is under way, and nothing is remembered. */
export function clearState(): void {
  if (STATE_BYTES > STATE_ROOM) ERROR('the state needs more room');
  memory.fill(STATE, 0, STATE_BYTES);
}
