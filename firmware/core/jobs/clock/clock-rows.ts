/** The date and the time on the panel: at rest only whether they are set, since nothing there counts the minutes. */
import { ascii } from '../../protocol/texts';
import { beginRow, put, putByte, putNumber } from '../../rows/row';
import { calendar } from '../../state/state';
import { CalendarFigure, zoneMinutes } from './calendar-figures';

export function drawClock(): void {
  put(ascii('Date and time'));
}

export function drawClockNote(): void {
  put(calendar.isTold ? ascii('are set') : ascii('are not set yet'));
}

/** "2027-03-05 21:40 / UTC +1:00 / Knob: year" */
export function drawCalendar(): void {
  putNumber(calendar.year);
  putTwo(0x2d, calendar.month);
  putTwo(0x2d, calendar.day);
  putTwo(0x20, calendar.hour);
  putTwo(0x3a, calendar.minute);
  beginRow(2);
  drawZone(zoneMinutes());
  beginRow(3);
  put(figureWords());
}

/** After that byte. */
function putTwo(before: u8, value: i32): void {
  putByte(before);
  putByte(u8(0x30 + value / 10));
  putByte(u8(0x30 + (value % 10)));
}

function drawZone(minutes: i32): void {
  put(ascii('UTC '));
  putByte(minutes < 0 ? 0x2d : 0x2b);
  putNumber(abs(minutes) / 60);
  putTwo(0x3a, abs(minutes) % 60);
}

function figureWords(): usize {
  switch (calendar.figure) {
    case CalendarFigure.Day:
      return ascii('Knob: day');
    case CalendarFigure.Month:
      return ascii('Knob: month');
    case CalendarFigure.Year:
      return ascii('Knob: year');
    case CalendarFigure.Hour:
      return ascii('Knob: hour');
    case CalendarFigure.Minute:
      return ascii('Knob: minute');
    default:
      return ascii('Knob: ahead of UTC');
  }
}
