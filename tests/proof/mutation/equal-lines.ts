/** Changes of single lines that no test can notice, and why. Each line stands in its file. */

interface Equal {
  readonly file: string;
  /** Part of the line that is changed; it stands in the file. */
  readonly line: string;
  readonly change: RegExp;
  readonly why: string;
}

const sign = /_s as \w+_u$/;
/** The last byte of a record, where its longest text ends before that. */
const padding = 'the record ends in padding, which is zero from the start and which nothing writes';

export const equals: readonly Equal[] = [
  {
    file: 'firmware/core/plan/pulses.ts',
    line: 'end < plan.pieceCount',
    change: sign,
    why: 'both count from 0',
  },
  {
    file: 'firmware/core/jobs/clock/clock-rows.ts',
    line: 'u8(0x30 + value / 10)',
    change: sign,
    why: 'no day, month, hour or minute is below zero',
  },
  {
    file: 'firmware/core/jobs/process/process.ts',
    line: 'seconds / 1000',
    change: sign,
    why: 'a product of what went by, 1 ms or more, and of a setting that is never below zero',
  },
  {
    file: 'firmware/core/jobs/plain/plain-light.ts',
    line: 'plan.addPiece(PieceKind.Open, STOPS_FIRST, doseMs)',
    change: /^1 as 0$/,
    why: 'only a piece with another before it is asked whether it stops the lamp',
  },
  {
    file: 'firmware/core/log/entries.ts',
    line: 'focus.onMs = roundedMs(onUs)',
    change: /^i64\.extend_i32_u as extend_i32_s$/,
    why: 'no light for focusing lasts 2^31 us: the longest that may be set is a quarter of an hour',
  },
  {
    file: 'firmware/core/protocol/characters.ts',
    line: 'point < 0x20',
    change: sign,
    why: 'no character has a number below zero',
  },
  {
    file: 'firmware/core/protocol/line-reader.ts',
    line: '++count > maxChars',
    change: sign,
    why: 'both count from 0',
  },
  {
    file: 'firmware/core/timers/civil-time.ts',
    line: 'inCycle < 366',
    change: sign,
    why: 'a day of a cycle of four years, from 0',
  },
  {
    file: 'firmware/core/baths/incoming-baths.ts',
    line: 'memory.fill(incomingBaths, 0, BATH_ROW_BYTES)',
    change: /^448 as 447$/,
    why: padding,
  },
  {
    file: 'firmware/core/baths/incoming-baths.ts',
    line: 'memory.copy(incomingBaths, bathRow, BATH_ROW_BYTES)',
    change: /^448 as 447$/,
    why: padding,
  },
  {
    file: 'firmware/core/baths/incoming-baths.ts',
    line: 'memory.copy(bathRow, incomingBaths, BATH_ROW_BYTES)',
    change: /^448 as 447$/,
    why: padding,
  },
  {
    file: 'firmware/core/log/entries.ts',
    line: 'memory.fill(entry, 0, EXPOSURE_BYTES)',
    change: /^104 as 103$/,
    why: padding,
  },
  {
    file: 'firmware/core/protocol/upload.ts',
    line: 'memory.copy(incomingRecipe, changetype<usize>(recipeBegin), RECIPE_BEGIN_BYTES)',
    change: /^24 as 23$/,
    why: padding,
  },
  {
    file: 'host/board/link/answer-watch.ts',
    line: 'this.#waitUntil(this.#sentMs + this.#noiseMs)',
    change: /^\+ as -$/,
    why: 'woken too early it sees that nothing is due and waits on',
  },
  {
    file: 'host/board/link/line-framer.ts',
    line: 'this.#lineBytes + end - start > LONGEST_KEPT',
    change: /^> as >=$/,
    why: 'a line of just that length has no surplus to leave out',
  },
  {
    file: 'host/board/link/log-window.ts',
    line: 'last === undefined ? 0 :',
    change: /^0 as 1$/,
    why: 'without a last stretch the count is not asked for',
  },
  {
    file: 'host/board/link/log-collection.ts',
    line: 'this.#beginSeq === undefined ? 0 :',
    change: /^0 as 1$/,
    why: 'it is only held against thousands of entries',
  },
  {
    file: 'host/board/link/port-note.ts',
    line: "digest('hex').slice(0, 16)",
    change: /^16 as 17$/,
    why: 'who writes the note and who reads it go by the same name',
  },
  {
    file: 'firmware/core/arithmetic/stops.ts',
    line: 'let more = x + ((x * x) >> 41)',
    change: sign,
    why: 'a square',
  },
  {
    file: 'firmware/core/arithmetic/stops.ts',
    line: 'more = x + ((x * more) >> 39) / 3',
    change: sign,
    why: 'both have the same sign, so that their product is not below zero',
  },
  {
    file: 'firmware/core/baths/points.ts',
    line: 'const at = i32(point.trayC10)',
    change: sign,
    why: '450 at most: tenths of a degree that a tray can have',
  },
  {
    file: 'firmware/core/baths/points.ts',
    line: '(isBelow ? at > best : at < best)',
    change: sign,
    why: 'temperatures of a tray, none below zero',
  },
  {
    file: 'firmware/core/evening/menu.ts',
    line: 'left.isOffered = next < 0',
    change: /^i32\.lt_s as le_s$/,
    why: 'the knob stops only where there is no place, and the first place is one',
  },
  {
    file: 'firmware/core/evening/turning.ts',
    line: 'chosen.passDue < eveningPlan.passCount',
    change: sign,
    why: 'both count from 0',
  },
  {
    file: 'firmware/core/jobs/checkup/checkup-rows.ts',
    line: 'load<u16>(words',
    change: sign,
    why: "the address of a text of the core's own: all of them lie in the first half of the page",
  },
  {
    file: 'firmware/core/jobs/clock/calendar-figures.ts',
    line: 'calendar.startedMs = epochMs - nowUs / 1000',
    change: sign,
    why: 'the time since power-up',
  },
  {
    file: 'firmware/core/jobs/kinds.ts',
    line: 'load<u8>(BEFORE_RECIPES + place)',
    change: sign,
    why: 'the number of a kind of work, far below 128',
  },
  {
    file: 'firmware/core/jobs/kinds.ts',
    line: 'load<u8>(BEHIND_RECIPES + place)',
    change: sign,
    why: 'the number of a kind of work, far below 128',
  },
  {
    file: 'firmware/core/jobs/plain/plain-light.ts',
    line: 'figure < PlainFigure.Filter',
    change: sign,
    why: 'what is below zero was told before',
  },
  {
    file: 'firmware/core/jobs/process/process-figures.ts',
    line: 'return clicks > 0 ? 1 : 0',
    change: /^0 as -1$/,
    why: 'a turn is of one click at least, one way or the other',
  },
  {
    file: 'firmware/core/jobs/process/process-figures.ts',
    line: 'return clicks > 0 ? USUAL_C10 : 0',
    change: /^0 as -1$/,
    why: 'a turn is of one click at least, one way or the other',
  },
  {
    file: 'firmware/core/jobs/lamp-test/lamp-test-rows.ts',
    line: 'return;',
    change: /^br left out$/,
    why: 'the row is full, and what is put behind that is cut off',
  },
  {
    file: 'firmware/core/jobs/strip/strip-proposal.ts',
    line: 'while (stops < MOST_STOPS && timeAtStopsMs',
    change: sign,
    why: 'a time that is doubled only while it is short is in range, and both count from 0',
  },
  {
    file: 'firmware/core/knob/turned-time.ts',
    line: 'if (nextMs < 1 || nextMs > LONGEST_DOSE_MS) return toMs',
    change: /^(?:0 as 1|1 as 2|3600000 as 3600001)$/,
    why: 'marks are whole tenths of a second',
  },
  {
    file: 'firmware/core/knob/turned-time.ts',
    line: 'const gapMs = gapAtMs(ms - 1)',
    change: /^1 as 2$/,
    why: 'where the gap changes there is a mark of both gaps',
  },
  {
    file: 'firmware/core/knob/turned-time.ts',
    line: 'if (ms < 3000)',
    change: sign,
    why: 'no time is below zero',
  },
  {
    file: 'firmware/core/knob/turned-time.ts',
    line: 'if (ms < 20_000)',
    change: sign,
    why: 'no time is below zero',
  },
  {
    file: 'firmware/core/knob/turned-time.ts',
    line: 'if (ms < 60_000)',
    change: sign,
    why: 'no time is below zero',
  },
  {
    file: 'firmware/core/knob/turned-time.ts',
    line: 'return ms < 300_000',
    change: sign,
    why: 'no time is below zero',
  },
  {
    file: 'firmware/core/log/outbox.ts',
    line: 'if (code < 0) refused(letter)',
    change: /^0 as 1$/,
    why: 'what is handed over waits or is refused; nothing is done at once',
  },
  {
    file: 'firmware/core/plan/giving.ts',
    line: 'return next < endOfPass() ?',
    change: sign,
    why: 'both count pieces from 0',
  },
  {
    file: 'firmware/core/plan/giving.ts',
    line: 'while (pass < eveningPlan.passCount && isGiven(pass)) pass++',
    change: /^i32\.lt_s as le_s$/,
    why: 'a pass that the plan does not have was never given',
  },
  {
    file: 'firmware/core/protocol/characters.ts',
    line: 'store<u8>(to, u8((0xf00 >> length) | point))',
    change: sign,
    why: '0xf00 has no sign',
  },
  {
    file: 'firmware/core/protocol/line-reader.ts',
    line: 'if (at + length < end && load<u8>(at + length) == QUOTE',
    change: /^i32\.gt_u as ge_u$/,
    why: "behind a line's elements stands the comma of its checksum",
  },
  {
    file: 'firmware/core/protocol/line-reader.ts',
    line: 'if (slug && count > 0 && before == HYPHEN)',
    change: /^0 as 1$/,
    why: 'a name of one hyphen is wrong already: a hyphen behind a hyphen, with which every name begins',
  },
  {
    file: 'firmware/core/protocol/line-writer.ts',
    line: 'let rest: u64 = value < 0',
    change: /^i64\.lt_s as le_s$/,
    why: 'nothing less nothing is nothing',
  },
  {
    file: 'firmware/core/protocol/line-writer.ts',
    line: 'put(hexDigit((unit >> shift) & 15))',
    change: sign,
    why: 'a unit of UTF-16 has 16 bits',
  },
  {
    file: 'firmware/core/protocol/record-codec.ts',
    line: 'putField(field, from + load<u8>(field, 1))',
    change: sign,
    why: 'no record is as long as 128 bytes',
  },
  {
    file: 'firmware/core/protocol/record-codec.ts',
    line: 'return CHOICE_WORDS + load<u16>(CHOICE_AT',
    change: sign,
    why: 'all words of all choices have far less than 2^15 bytes',
  },
  {
    file: 'firmware/core/protocol/requests.ts',
    line: 'keepSetting(codec.setSetting.name',
    change: /^i32\.load8_u as load8_s$/,
    why: 'there are far fewer settings than 128',
  },
  {
    file: 'firmware/core/rows/figures.ts',
    line: 'if (ms < 100_000)',
    change: sign,
    why: 'no time is below zero',
  },
  {
    file: 'firmware/core/rows/figures.ts',
    line: 'else if (ms < 1_000_000)',
    change: sign,
    why: 'no time is below zero',
  },
  {
    file: 'firmware/core/rows/figures.ts',
    line: 'putNumber(value / parts)',
    change: sign,
    why: 'no figure that is shown in decimals is below zero: the sign of an offset is put before it',
  },
  {
    file: 'firmware/core/rows/figures.ts',
    line: 'else putFraction((abs(',
    change: sign,
    why: 'what has no sign any more',
  },
  {
    file: 'firmware/core/rows/plain-letters.ts',
    line: 'LATIN_EXTENDED_A + 1 + extended',
    change: sign,
    why: 'plain ASCII',
  },
  {
    file: 'firmware/core/settings/settings.ts',
    line: 'load<i16>(SETTING_MAX',
    change: sign,
    why: "no setting's greatest value is below zero",
  },
  {
    file: 'firmware/core/sound/signals.ts',
    line: 'const isOver = length >= i32(load<u8>(row))',
    change: sign,
    why: 'a signal has a handful of tones',
  },
  {
    file: 'firmware/core/state/contact.ts',
    line: 'this.creditUs < SETTLE_US',
    change: sign,
    why: 'credit is never below zero',
  },
  {
    file: 'firmware/core/storage/format-mark.ts',
    line: 'return storedFormat > STORAGE_FORMAT',
    change: sign,
    why: 'it begins at 1 and only grows',
  },
  {
    file: 'firmware/core/storage/journal.ts',
    line: 'RECORD_HEADER_BYTES + <i32>record.length > PAGE_BYTES',
    change: sign,
    why: 'a length of 2^15 and more does not pass the next line',
  },
  {
    file: 'firmware/core/storage/journal.ts',
    line: 'flashRead(offset + RECORD_HEADER_BYTES, record.payload, record.length)',
    change: sign,
    why: 'the line before let no length pass that is greater than a page',
  },
  {
    file: 'firmware/core/storage/sector-mark.ts',
    line: 'noteFormat(load<u16>(mark, FORMAT_AT))',
    change: sign,
    why: 'the 16 bits are all that is taken of it',
  },
  {
    file: 'firmware/core/storage/shelf-writer.ts',
    line: 'if (bodyDone < <i32>newHeader.bodyBytes)',
    change: sign,
    why: 'both count bytes from 0',
  },
  {
    file: 'firmware/core/timers/civil-time.ts',
    line: 'return DAYS_TO_2000 + years * 365 + (years + 3) / 4',
    change: sign,
    why: 'years from 2000 on',
  },
  {
    file: 'firmware/core/timers/timers.ts',
    line: 'else if (atUs < dueUs(first) || (atUs == dueUs(first) && timer < first))',
    change: /^i32\.[lg]t_s as [lg]t_u$/,
    why: 'timers are numbered from 0',
  },
  {
    file: 'firmware/core/jobs/recipe/keep-as.ts',
    line: 'while (next > OWN_NAME && next <= MOST_NEGATIVES',
    change: /^i32\.gt_s as gt_u$/,
    why: 'from 0, where it begins, and down to -1, which is no number that is taken',
  },
];
