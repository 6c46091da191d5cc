import { expect, it } from 'vitest';
import { Page } from './page.js';

/** A board as it comes, and no laptop in the house. */
function playEvening(): Page {
  const page = new Page();
  page.show('the board waits');
  page.turn(-9);
  page.tap('the clock');
  for (const clicks of [0, 2, 4, 1, 40]) {
    page.turn(clicks);
    page.push();
  }
  page.push();
  page.turn(1);
  page.hold('focus');
  page.tap('light out');
  page.hold('the lens is stopped down');
  page.tap('a plain exposure');
  page.turn(-1);
  page.push();
  page.push();
  page.turn(5);
  page.tap('that is it');
  page.tap('the filter is in');
  page.light('light', 12);
  page.act('hold the knob: keep it', (bench) => bench.holdKnob());
  page.turn(6);
  page.push();
  page.wait(2);
  page.push();
  page.turn(-1);
  page.turn(4);
  return page;
}

// Read by a person for sense; a change of it is to be read again.
it('a fresh board sets its clock, prints a known time and keeps it, without a laptop', async () => {
  await expect(playEvening().text).toMatchFileSnapshot('golden-fresh-board.txt');
});
