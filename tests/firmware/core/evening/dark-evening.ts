import type { BoardHome } from '../../../../host/board/sim/board-home.js';
import { boathouse } from './boathouse.js';
import type { EveningBench } from './evening-bench.js';
import { findBase } from './find-base.js';
import { Page } from './page.js';

/** One patch of the lamp test: 16 pulses, about a second from each to the next. */
const LAMP_PATCH_SECONDS = 19;
const PRINT_SECONDS = 30;

/**
 * A whole evening with the laptop shut, by pedal and knob: focus, lens check, the safelight's test, the lamp's, a strip
 * that comes out black because the lens was open, the lens, strips, choosing, a bracket of the sky, a print, kept as a
 * new version, through the baths, and a second print at +1/6. The recipe came by daylight.
 */
export function playDarkEvening<Home extends BoardHome>(bench: EveningBench<Home>): Page<Home> {
  bench.greet();
  bench.print(boathouse);
  const page = new Page(bench);
  page.show('the board waits');
  focus(page);
  testSafelight(page);
  testLamp(page);
  findBase(page);
  bracketSky(page);
  print(page);
  process(page);
  printAgain(page);
  return page;
}

function focus<Home extends BoardHome>(page: Page<Home>): void {
  page.hold('focus');
  page.wait(20);
  page.tap('light out');
  page.hold('the lens is stopped down');
}

/** Band 4, which had seven minutes, has changed: three are safe. */
function testSafelight<Home extends BoardHome>(page: Page<Home>): void {
  page.turn(2);
  page.tap('a sheet for the safelight test');
  page.turn(-12);
  page.light('the grey before', 5);
  page.tap('the safelight begins');
  for (const seconds of [61, 119, 1, 238]) page.wait(seconds);
  page.wait(3);
  page.tap('the grey after', 5);
  page.turn(1);
  page.turn(2);
  page.push();
}

/** The third patch is like the long exposure. */
function testLamp<Home extends BoardHome>(page: Page<Home>): void {
  page.turn(5);
  page.tap('a sheet for the lamp test');
  page.tap('one long exposure', 5);
  page.tap('many short ones', 3);
  page.wait(LAMP_PATCH_SECONDS - 3);
  for (let patch = 2; patch <= 7; patch++) page.tap(`patch ${patch}`, LAMP_PATCH_SECONDS);
  page.turn(1);
  page.turn(-3);
  page.push();
}

function bracketSky<Home extends BoardHome>(page: Page<Home>): void {
  page.turn(1);
  page.tap('a sheet for the bracket');
  page.push();
  page.turn(-1);
  for (let figures = 0; figures < 3; figures++) page.push();
  for (let light = 1; light <= 9; light++) page.light(`light ${light}`, PRINT_SECONDS);
  page.turn(1);
  page.turn(1);
  page.push();
}

function print<Home extends BoardHome>(page: Page<Home>): void {
  page.tap('the print');
  for (let light = 1; light <= 5; light++) page.light(`light ${light}`, PRINT_SECONDS);
  page.act('hold the knob: keep it', (bench) => bench.holdKnob());
  page.act('push: under that name', (bench) => {
    bench.push();
    bench.seconds(2);
  });
}

function process<Home extends BoardHome>(page: Page<Home>): void {
  page.hold('back to rest');
  page.turn(-3);
  page.tap('to the baths');
  for (let figures = 0; figures < 4; figures++) page.push();
  page.tap('into the developer', 12);
  page.wait(70);
  page.wait(10);
  page.tap('into the stop bath', 21);
  page.tap('into the fixer', 91);
  page.tap('into the wash', 60);
  page.tap('clean enough');
}

function printAgain<Home extends BoardHome>(page: Page<Home>): void {
  page.hold('back to rest');
  page.turn(3);
  page.tap('a second print');
  page.turn(2);
  for (let light = 1; light <= 5; light++) page.light(`light ${light}`, PRINT_SECONDS);
}
