import type { BoardHome } from '../../../../host/board/sim/board-home.js';
import type { Page } from './page.js';

/**
 * A strip that comes out black because the lens was open, the lens, another strip, and a third by tenths, with the lens
 * stopped down until there is time to dodge.
 */
export function findBase<Home extends BoardHome>(page: Page<Home>): void {
  page.tap('a strip by whole stops');
  for (let patch = 1; patch <= 6; patch++) page.light(`patch ${patch}`, 40);
  page.turn(1);
  page.turn(-9);
  page.push();
  page.tap('the lens was left open');
  page.hold('now it is stopped down');
  page.tap('the proposed strip');
  page.push();
  page.turn(24);
  for (let patch = 1; patch <= 6; patch++) page.light(`patch ${patch}`, 70);
  page.turn(1);
  page.turn(-2);
  page.push();
  page.tap('the lens is stopped down so far');
  page.tap('a strip by tenths');
  for (let patch = 1; patch <= 12; patch++) page.light(`patch ${patch}`, 30);
  page.turn(1);
  page.turn(1);
  page.push();
}
