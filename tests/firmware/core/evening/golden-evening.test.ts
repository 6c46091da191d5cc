import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { findBase } from './find-base.js';
import { Page } from './page.js';

function playEvening(): Page {
  const page = new Page();
  page.bench.greet();
  page.bench.print(boathouse);
  page.bench.turn(-1);
  page.show('the board waits');
  page.act('hold: focus', (bench) => bench.hold());
  page.tap('light out');
  page.act('hold: the lens is stopped down', (bench) => bench.hold());
  findBase(page);
  page.tap('the print');
  page.turn(2);
  for (let figures = 0; figures < 7; figures++) page.push();
  for (let pulse = 1; pulse <= 5; pulse++) page.light(`light ${pulse}`, 60);
  page.act('hold the knob: keep it', (bench) => bench.holdKnob());
  page.act('push: under that name', (bench) => {
    bench.push();
    bench.seconds(2);
  });
  page.tap('a second print');
  page.light('light', 1);
  page.tap('a pause');
  page.act('hold: given up', (bench) => bench.hold());
  return page;
}

describe('an evening with pedal and knob', () => {
  // Read by a person for sense; a change of it is to be read again.
  it('shows these screens', async () => {
    await expect(playEvening().text).toMatchFileSnapshot('golden-evening.txt');
  });

  it('is told by the log', () => {
    const kinds = playEvening()
      .bench.log()
      .flatMap((entry) => (entry.type === 'exposure' ? [] : [entry.type]));
    expect(kinds).toEqual([
      ...['started', 'lens', 'sheet', 'sheet-ended', 'strip-reading', 'lens'],
      ...['sheet', 'sheet-ended', 'strip-reading', 'stopped-down', 'sheet', 'sheet-ended', 'strip-reading'],
      ...['recipe-change', 'sheet', 'sheet-ended', 'recipe-version', 'sheet', 'sheet-ended'],
    ]);
  });
});
