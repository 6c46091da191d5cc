import { describe, expect, it } from 'vitest';
import { EveningBench } from './evening-bench.js';
import { Page } from './page.js';

/** A developer with times at 18, 20 and 24 degrees that is good for three sheets, and a stop. */
function atWarmBaths(): Page {
  const bench = new EveningBench();
  bench.greet();
  const times = { drainSeconds: 10, agitationSeconds: 15 };
  bench.ask({
    ...{ type: 'bath-set', id: 0, bath: 1, baths: 2, label: 'developer', limitCm2: 3 * 516, ...times },
    ...{ resinCoatedSeconds: 90, fibreSeconds: 180 },
  });
  bench.ask({
    ...{ type: 'bath-set', id: 0, bath: 2, baths: 2, label: 'stop', limitCm2: 0, ...times },
    ...{ resinCoatedSeconds: 20, fibreSeconds: 30 },
  });
  [120, 90, 60].forEach((resinCoatedSeconds, at) => {
    bench.ask({
      ...{ type: 'point-set', id: 0, point: at + 1, points: 3, label: 'developer' },
      ...{ trayC10: [180, 200, 240][at]!, resinCoatedSeconds, fibreSeconds: 2 * resinCoatedSeconds },
    });
  });
  bench.ask({ type: 'choose', id: 0, job: 'process', name: '' });
  const page = new Page(bench);
  page.show('the board waits');
  return page;
}

/** The tray is told warm, too warm, and right; then the first tone decides; then the developer is used up. */
function develop(page: Page): void {
  page.tap('to the baths');
  for (let figures = 0; figures < 3; figures++) page.push();
  for (const clicks of [1, 5, 6, -6]) page.turn(clicks);
  page.tap('into the developer', 20);
  page.wait(56);
  page.tap('into the stop bath', 21);
  page.tap('another sheet');
  for (let figures = 0; figures < 6; figures++) page.push();
  page.turn(3);
  page.tap('into the developer');
  page.wait(11);
  page.tap('the first tone', 1);
  page.wait(64);
  page.hold('back to rest');
  page.tap('the third sheet');
  page.tap('into the developer');
  page.tap('too soon for a tone', 3);
  page.tap('the first tone');
  page.hold('and out');
  page.tap('the fourth sheet');
  for (let figures = 0; figures < 6; figures++) page.push();
  page.turn(1);
}

describe('development by temperature and by the first tone', () => {
  // Read by a person for sense; a change of it is to be read again.
  it('shows these screens', async () => {
    const page = atWarmBaths();
    develop(page);
    await expect(page.text).toMatchFileSnapshot('golden-development.txt');
  });
});
