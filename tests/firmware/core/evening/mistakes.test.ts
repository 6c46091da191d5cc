import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { Page } from './page.js';

/**
 * Somebody's first evening, with every mistake there is to make: turns the knob and taps, tries to leave out the base,
 * steps on the pedal between two passes, gives the last burn again, backs out before any light, pulls the plug.
 */
function firstEvening(): Page {
  const page = new Page();
  page.bench.greet();
  page.bench.print(boathouse);
  page.bench.focusAndStopDown();
  page.bench.seconds(1);
  page.tap('the print');
  page.hold('not yet: no light, no sheet');
  page.tap('the print');
  page.turn(1);
  page.tap('the knob had been touched: no light, but what comes');
  for (let figures = 0; figures < 7; figures++) page.bench.push();
  page.turn(1);
  page.push();
  page.tap('filter in');
  page.tap('light 1', 1);
  page.hold('a stray foot in the middle of a dodge');
  page.tap('and back');
  page.tap('the rest', 10);
  page.tap('light 2', 10);
  page.tap('light 3', 20);
  page.hold('a stray foot between two passes');
  page.turn(1);
  page.turn(-20);
  page.tap('and back');
  page.tap('the other filter is in');
  page.tap('the sky', 30);
  page.tap('the left edge', 30);
  page.turn(1);
  page.push();
  page.turn(-1);
  page.tap('yes, once more');
  page.tap('the same sheet', 30);
  page.hold('rest');
  page.act('the plug is pulled', ({ board }) => {
    board.cutPower();
    board.restorePower();
  });
  return page;
}

describe('a first evening with every mistake', () => {
  // Read by a person for sense; a change of it is to be read again.
  it('shows these screens', async () => {
    await expect(firstEvening().text).toMatchFileSnapshot('golden-mistakes.txt');
  });

  it('costs no sheet', () => {
    const { bench } = firstEvening();
    bench.greet();
    expect(entries(bench, 'sheet-ended').at(-1)).toMatchObject({ sheet: 1, prints: 1, wasted: 0 });
    const given = bench
      .log()
      .flatMap((entry) =>
        entry.type === 'exposure' && entry.doseMs > 0 && entry.pass > 0 ? [entry.pass] : [],
      );
    expect(given).toEqual([1, 1, 2, 3, 3]);
  });
});
