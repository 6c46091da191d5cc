import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

const strip = {
  ...({ type: 'strip-set', id: 0, firstMs: 64_000, stepStops120: 60, stepMs: 0 } as const),
  ...({ patches: 3, cover: 'separate', filter: '' } as const),
};

function rest(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
  bench.print({ ...boathouse, name: 'ashdown' });
  bench.print(boathouse);
  return bench;
}

/** Gives every light of the sheet that is chosen, and turns the knob to read it. */
function reading(bench: EveningBench): EveningBench {
  for (let taps = 0; taps < 20 && !bench.panel[0]!.startsWith('Tap again'); taps++) {
    bench.tap();
    bench.seconds(80);
  }
  bench.turn(1);
  expect(bench.panel[0]).toMatch(/^Tap accept /);
  return bench;
}

const choose = (job: 'recipe' | 'strip' | 'bracket', name = '') =>
  ({ type: 'choose', id: 0, job, name }) as const;
const refused = { type: 'error', code: 'not-allowed', text: expect.stringContaining('finish it') };

describe('a laptop that changes the shelf while a printer is at the knob', () => {
  // The menu had counted the recipe in use, which was gone as soon as the knob passed another one: the place after
  // the last was taken for a job, `status` had job 'recipe-line', and the next click read beyond the page.
  it('sends another recipe, and the one that the knob has changed stays as the knob left it', () => {
    const bench = rest();
    bench.turn(1);
    bench.tap();
    bench.turn(1);
    bench.hold();
    const changed = bench.panel;
    bench.send({ ...boathouse, name: 'ashdown', baseMs: 9000 });
    bench.seconds(2);
    expect(bench.panel).toEqual(changed);
    bench.send({ ...boathouse, baseMs: 9000 });
    bench.seconds(2);
    expect(bench.panel[1]).toBe('9.00 s base');
  });

  it.each([
    [3, 'bracket'],
    [4, 'safelight-test'],
    [5, 'stray-light-test'],
    [6, 'lamp-test'],
    [7, 'checkup'],
    [24, 'checkup'],
    [-24, 'clock'],
  ])('removes the recipe in use, and a turn by %i stays in the menu', (clicks, job) => {
    const bench = rest();
    bench.ask(choose('strip'));
    bench.ask({ type: 'recipe-remove', id: 0, name: boathouse.name });
    bench.turn(clicks);
    expect(bench.ask({ type: 'ping', id: 0 })[0]).toMatchObject({ type: 'status', job });
    bench.turn(-24);
    expect(bench.panel[2]).toBe('Date and time');
    expect(entries(bench, 'started')).toHaveLength(1);
  });
});

const bath = (bath: number, baths: number, label: string, resinCoatedSeconds: number) =>
  ({
    ...({ type: 'bath-set', id: 0, bath, baths, label, resinCoatedSeconds, fibreSeconds: 60 } as const),
    ...({ drainSeconds: 0, agitationSeconds: 0, limitCm2: 0 } as const),
  }) as const;

describe('a row of baths that the shelf takes when the paper is on its way into another one', () => {
  // The place in the old row was kept for the new one: the panel showed no bath, and the log had a bath 0.
  it('is used when that paper is through, and what went through is counted in it', () => {
    const bench = rest();
    bench.ask(bath(1, 2, 'rinse', 0));
    bench.ask(bath(2, 2, 'fixer', 2));
    bench.ask({ type: 'choose', id: 0, job: 'process', name: '' });
    bench.board.pedal(true);
    bench.seconds(0.1);
    bench.askAtOnce(bath(1, 1, 'fixer', 40));
    bench.board.pedal(false);
    bench.seconds(0.5);
    expect(bench.panel).toEqual(['Tap bath Hold back', '0:02', 'fixer', 'Bath 1/1, 1 sheet']);
    bench.tap();
    bench.seconds(3);
    expect(entries(bench, 'bath-used')).toMatchObject([{ bath: 2, label: 'fixer', sheets: 1 }]);
    bench.hold();
    expect(bench.panel.slice(1)).toEqual(['0:40', 'fixer', '1 bath']);
    bench.seconds(1);
    bench.board.reset('power');
    bench.seconds(1);
    bench.greet();
    expect(bench.ask({ type: 'bath-get', id: 0, bath: 1 })).toMatchObject([
      { baths: 1, label: 'fixer', sheets: 1 },
    ]);
  });
});

describe('a laptop that chooses while a sheet is being read', () => {
  // One tap then made what was seen on the strip the base of the recipe chosen meanwhile.
  it.each([choose('recipe', boathouse.name), choose('strip'), strip])(
    'is refused in words, and the strip is the base of the recipe it was made for: %o',
    (request) => {
      const bench = rest();
      bench.ask({ type: 'choose', id: 0, job: 'recipe', name: 'ashdown' });
      bench.ask(strip);
      reading(bench);
      expect(bench.ask(request as typeof strip)[0]).toMatchObject(refused);
      bench.push();
      expect(bench.panel[1]).not.toBe('64.00 s first');
      bench.ask({ type: 'choose', id: 0, job: 'recipe', name: 'ashdown' });
      expect(bench.log().map(({ type }) => type)).toContain('strip-reading');
    },
  );

  it('is refused, and the bracket is still read', () => {
    const bench = rest();
    bench.ask(choose('bracket'));
    reading(bench);
    expect(bench.ask(choose('recipe', 'ashdown'))[0]).toMatchObject(refused);
    bench.push();
    expect(bench.log().map(({ type }) => type)).toContain('strip-reading');
    expect(bench.ask({ type: 'ping', id: 0 })[0]).toMatchObject({ name: boathouse.name });
  });
});

describe('a laptop that sets a strip while the board keeps a recipe', () => {
  // It was refused as busy, and the strip was another one all the same.
  it('is refused, and the strip stays', () => {
    const bench = rest();
    bench.tap();
    bench.turn(1);
    bench.holdKnob();
    bench.holdKnob();
    bench.board.knobPush(true);
    bench.board.advanceUs(100_000);
    bench.board.knobPush(false);
    bench.board.advanceUs(1_000);
    const [answer] = bench.askAtOnce(strip);
    bench.seconds(1);
    expect(answer).toMatchObject({ type: 'error', code: 'busy' });
    bench.turn(-24);
    bench.turn(3);
    expect(bench.panel[1]).toBe('2.00 s first');
  });
});
