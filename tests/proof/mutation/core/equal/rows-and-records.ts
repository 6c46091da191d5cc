import type { Equal } from '../../equal.js';

/** Rows of the panel that are begun twice, and records with bytes of no field: the layout is that of the codec. */
export const rowsAndRecords: readonly Equal[] = [
  {
    file: 'firmware/core/panel/panel.ts',
    line: 'beginRow(2);',
    below: 'beginRow(3);',
    change: /^call beginRow left out$/,
    why: 'whatever is drawn begins row 2 itself, or fills it: each state, each kind of work, each figure and each question',
  },
  {
    file: 'firmware/core/panel/pass-rows.ts',
    line: 'return passNow().pulses > 1',
    change: /^1 as 2$/,
    why: 'a pass has one pulse, the 16 of a patch of the lamp test, or the 100 of the checkup',
  },
  {
    file: 'firmware/core/protocol/notices.ts',
    line: 'if (load<u8>(ascii) > LAST_ASCII)',
    change: /^126 as 127$/,
    why: 'no row begins with 127: what is beyond 126 is made plain before it is shown, and all dots are 255',
  },
  {
    file: 'firmware/core/protocol/board-name.ts',
    line: 'memory.fill(place, 0, BOARD_NAME_BYTES)',
    change: /^(?<tens>\d+)(?:2 as \k<tens>1|4 as \k<tens>3|6 as \k<tens>5|8 as \k<tens>7)$/,
    why: 'the last bytes of the record, and of the one before it, are of no field: a text ends before them',
  },
  {
    file: 'firmware/core/protocol/recipe-lines.ts',
    line: 'memory.fill(changetype<usize>(recipeLine), 0, RECIPE_LINE_BYTES)',
    change: /^112 as 113$/,
    why: 'behind it is the bath that is told, and each of its fields is set before it is',
  },
  {
    file: 'firmware/core/protocol/requests.ts',
    line: 'forgetUpTo(codec.forget.uptoSeq, NO_TICKET)',
    change: /^0 as -1$/,
    why: 'what is finished by a ticket below zero is taken from its queue at once, and is none that anybody hears of',
  },
  {
    file: 'firmware/core/protocol/session.ts',
    line: 'i32(end - at - 1), // up to the comma before the checksum',
    change: /^1 as 0$/,
    why: 'behind the elements stands the comma before the checksum, which ends a number and is none',
  },
  {
    file: 'firmware/core/evening/noted-sheet.ts',
    line: 'memory.copy(changetype<usize>(leftSpread), changetype<usize>(bracketSpread), STRIP_SET_BYTES)',
    change: /^32 as 33$/,
    why: 'behind it lies the recipe of the sheet, which is noted next',
  },
];
