import type { Equal } from '../../equal.js';
import { sign } from './kinds.js';

const kind = 'a kind, a choice or a count of them, and there are far fewer than 128 of any';
const later = 'what is later is the time now, so the difference is not below zero';

/** Numbers that have no sign, and comparisons whose edge makes no difference. */
export const signsAndEdges: readonly Equal[] = [
  {
    file: 'firmware/core/arithmetic/lamp.ts',
    line: 'if (onUs <= delayUs) return 0;',
    change: /^i32\.le_u as lt_u$/,
    why: 'lit for nothing, all of its rise is left and each pulse adds nothing; without a rise it is no number, which is no more enough than nothing',
  },
  {
    file: 'firmware/core/baths/points.ts',
    line: 'const width = i32(above.trayC10) - i32(below.trayC10);',
    change: sign,
    why: 'tenths of a degree of a tray, some hundreds',
  },
  {
    file: 'firmware/core/baths/points.ts',
    line: 'let nearest = -1;',
    change: /^-1 as -2$/,
    why: 'whoever is told so asks only whether it is below zero, or has made sure that there is one',
  },
  {
    file: 'firmware/core/evening/desk.ts',
    line: 'desk, DESK_BYTES) < i32(SHEET_AT)) {',
    change: sign,
    why: 'the length of a document, and 0 where there is none',
  },
  {
    file: 'firmware/core/evening/menu.ts',
    line: 'if (place >= begin && place < recipesEnd())',
    change: sign,
    why: 'places of the menu count from zero, and this one is not before the first recipe',
  },
  {
    file: 'firmware/core/index.ts',
    line: 'if (finishedTicket >= LOG_TICKETS) logFinished',
    change: /^65536 as 65535$/,
    why: "the line's tickets end at 1000 and the number of kinds of message",
  },
  {
    file: 'firmware/core/index.ts',
    line: 'else if (finishedTicket >= SESSION_TICKETS) sessionStored',
    change: /^1000 as 1001$/,
    why: 'kind 0 is the greeting, which keeps nothing',
  },
  {
    file: 'firmware/core/jobs/clock/calendar-figures.ts',
    line: 'calendar.hour = minutes / 60;',
    change: sign,
    why: 'minutes of a day that is not before the first year',
  },
  {
    file: 'firmware/core/jobs/paper-out.ts',
    line: 'nowUs - paper.outSinceUs >= <i64>safeMinutes() * MINUTE_US',
    change: sign,
    why: 'the line above says that they are not below zero',
  },
  {
    file: 'firmware/core/jobs/paper-out.ts',
    line: '(nowUs - paper.outSinceUs) / MINUTE_US));',
    change: sign,
    why: later,
  },
  {
    file: 'firmware/core/jobs/recipe/recipe-plan.ts',
    line: 'if (dodgedMs > pass.doseMs) {',
    change: sign,
    why: 'doses of a plan, an hour each at most',
  },
  {
    file: 'firmware/core/jobs/spread-figures.ts',
    line: 'while (place < STEP_COUNT && i32(load<u8>(STEPS + place)) < stops120) place++;',
    change: sign,
    why: 'steps go up, none is below zero',
  },
  {
    file: 'firmware/core/jobs/strip/strip-proposal.ts',
    line: 'while (proposedPatches > LEAST_PATCHES && !reaches(proposedPatches - 1))',
    change: sign,
    why: 'it counts down from a number of patches, and ends at the least',
  },
  {
    file: 'firmware/core/knob/turned-time.ts',
    line: 'const nextMs = detents > 0 ?',
    change: /^0 as -1$/,
    why: 'no click is left of no detent, so here there is one up or one down',
  },
  {
    file: 'firmware/core/log/outbox.ts',
    line: 'switch (<Form>letter.form)',
    change: sign,
    why: kind,
  },
  {
    file: 'firmware/core/plan/giving.ts',
    line: 'if (next < end) return Left.OfPulse;',
    change: sign,
    why: 'places of pieces',
  },
  {
    file: 'firmware/core/protocol/bath-requests.ts',
    line: 'if (i32(pointGet.point) > pointCount())',
    change: sign,
    why: 'a byte of the line, and a count',
  },
  {
    file: 'firmware/core/protocol/characters.ts',
    line: 'return point < 0x80 // U+0080',
    change: /^128 as 127$|^i32\.lt_s as lt_u$/,
    why: 'DEL is in no text, and no character has a number below zero',
  },
  {
    file: 'firmware/core/protocol/record-codec.ts',
    line: 'return load<u8>(CHOICE_COUNT + choice);',
    change: sign,
    why: kind,
  },
  {
    file: 'firmware/core/protocol/record-codec.ts',
    line: 'const kind: FieldKind = load<u8>(field);',
    change: sign,
    why: kind,
  },
  {
    file: 'firmware/core/protocol/record-codec.ts',
    line: 'putChoice(wordsOf(load<u8>(field, 2)), load<u8>(at));',
    change: sign,
    why: kind,
  },
  {
    file: 'firmware/core/protocol/requests.ts',
    line: 'writeSettingLine(codec.getSetting.name, id);',
    change: sign,
    why: kind,
  },
  {
    file: 'firmware/core/protocol/requests.ts',
    line: 'chooseJob(codec.choose.job, codec.choose.name, nowUs)',
    change: sign,
    why: kind,
  },
  {
    file: 'firmware/core/rows/figures.ts',
    line: 'putOf(parts / divisor, 120 / divisor);',
    change: sign,
    why: 'the part of a stop, of which the sign was put first',
  },
  {
    file: 'firmware/core/state/contact.ts',
    line: '((nowUs - fromUs) >> TAKEN_BACK_SHIFT)',
    change: sign,
    why: 'the line before the last says that it is later',
  },
  {
    file: 'firmware/core/state/contact.ts',
    line: 'if (nowUs <= fromUs) return;',
    change: /^i64\.le_s as lt_s$/,
    why: 'no time has gone by, and nothing is counted of none',
  },
  {
    file: 'firmware/core/storage/ring.ts',
    line: 'memory.copy(into, record.payload, record.length);',
    change: sign,
    why: 'a record lies in one sector of 4096 bytes',
  },
  {
    file: 'firmware/core/storage/shelf.ts',
    line: 'if (at + length > <i32>described.bodyBytes)',
    change: sign,
    why: 'places and lengths within a sector of 4096 bytes',
  },
];
