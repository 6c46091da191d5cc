import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

function rest(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.print({ ...boathouse, name: 'skelder-mere' });
  bench.print(boathouse);
  bench.focusAndStopDown();
  return bench;
}

function ready(): EveningBench {
  const bench = rest();
  bench.tap();
  bench.answer();
  return bench;
}

function giveRest(bench: EveningBench): void {
  for (let taps = 0; taps < 12 && !bench.panel[0]!.startsWith('Tap again'); taps++) {
    bench.tap();
    bench.seconds(40);
  }
}

describe('the knob at rest', () => {
  it('goes from the clock through plain exposure, baths, strips, recipes by name and bracket to the tests and the checkup, and stops at either end', () => {
    const bench = rest();
    const seen = [-9, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, -6].map((clicks) => {
      bench.turn(clicks);
      return bench.panel[2];
    });
    expect(seen).toEqual([
      ...[
        'Date and time',
        'Plain exposure',
        'developer',
        '6 patches, 1 st',
        '6 patches, 1 st',
        'boathouse',
        'skelder-mere',
        '5 variants, 1/6 st',
      ],
      ...['Safelight test', 'Stray light test', 'Lamp test', 'Checkup', 'Checkup', 'boathouse'],
    ]);
    expect(bench.panel[0]).toBe('Tap print Hold focus');
  });

  it('pushed goes on to what is chosen, but never past the lens', () => {
    const bench = rest();
    bench.push();
    expect(bench.panel[0]).toBe('Filter in? Tap');
    bench.holdKnob();
    expect(bench.panel[0]).toBe('Tap print Hold focus');
    const unfocused = new EveningBench();
    unfocused.push();
    expect(unfocused.panel[0]).toBe('Stopped down? Hold');
  });
});

describe('the knob held down', () => {
  it('leads back to rest from the lens check and from a strip that is being read, which stays to be read', () => {
    const bench = rest();
    bench.hold();
    bench.tap();
    expect(bench.panel[0]).toBe('Stopped down? Hold');
    bench.holdKnob();
    expect(bench.panel[0]).toBe('Tap lens Hold focus');
    bench.tap();
    bench.hold();
    bench.ask({ type: 'choose', id: 0, job: 'strip', name: '' });
    bench.tap();
    giveRest(bench);
    bench.turn(1);
    expect(bench.panel[0]).toBe('Tap accept Hold rest');
    bench.holdKnob();
    expect([bench.panel[0], bench.panel[3]]).toEqual(['Tap strip Hold focus', 'Push knob: read it']);
  });

  it('before a light goes back, and the log lacks nothing of it', () => {
    const bench = ready();
    bench.turn(1);
    for (let times = 0; times < 3; times++) {
      bench.holdKnob();
      bench.tap();
    }
    bench.seconds(1);
    expect(bench.ask({ type: 'diagnose', id: 0 })).toMatchObject([{ entriesLost: 0 }]);
  });
});

describe('the knob before a print', () => {
  // 12 s x 2^(1/12) = 12.714 s, by definition; its half stop held back 12.714 x (1 - 2^(-1/2)) = 3.724 s.
  it('turns the whole recipe by twelfths of a stop', () => {
    const bench = ready();
    bench.turn(1);
    expect(bench.panel).toEqual(['Tap done Hold back', '12.71 s', 'boathouse', 'Knob: whole recipe']);
    giveRest(bench);
    const doses = bench.log().flatMap((entry) => (entry.type === 'exposure' ? [entry.plannedMs] : []));
    expect(doses.slice(1)).toEqual([12_714, 12_714, 5266]);
    expect(entries(bench, 'recipe-change')).toMatchObject([
      { recipe: 'boathouse', what: 'base', baseMs: 12_714 },
    ]);
    expect(entries(bench, 'sheet')).toMatchObject([{ baseMs: 12_714 }]);
  });

  it('is back at the very same time after any turns there and back', () => {
    const bench = ready();
    const slowly = (clicks: number) => {
      bench.turn(clicks);
      bench.seconds(0.2);
    };
    for (let click = 0; click < 30; click++) slowly(1);
    for (let click = 0; click < 30; click++) slowly(-1);
    expect(bench.panel[1]).toBe('12.00 s');
  });

  it.each([
    [3, '15.12 s'], // 12 x 2^(1/3)
    [6, '13.47 s'], // 12 x 2^(1/6)
    [24, '12.35 s'], // 12 x 2^(1/24)
    [0, '12.50 s'],
  ])('turns by the step of the setting: %i gives %s', (step, shows) => {
    const bench = rest();
    bench.ask({ type: 'set-setting', id: 0, name: 'knob-step', value: step });
    bench.tap();
    bench.turn(1);
    expect(bench.panel[1]).toBe(shows);
  });

  // A slow detent is a twelfth of a stop; quicker ones are the fractions that printers count in, a quarter and a half.
  it.each([
    [0.09, 1 / 4],
    [0.03, 1 / 2],
  ])(
    'goes further where it is turned quickly: with %f s between detents by %f stop each',
    (seconds, stops) => {
      const bench = ready();
      bench.turn(1);
      for (let detents = 1; detents <= 3; detents++) {
        bench.seconds(seconds);
        bench.turn(1);
        const baseSeconds = 12 * 2 ** (1 / 12 + detents * stops);
        expect(bench.panel[1]).toBe(`${baseSeconds.toFixed(2)} s`);
      }
    },
  );

  it('goes as far to either side, however many detents an encoder tells at once', () => {
    const bench = ready();
    for (const detents of [1000, -1000, -1000, 1000]) {
      bench.turn(detents);
      expect(bench.panel[1] === '12.00 s').toBe(false);
      bench.seconds(1);
      bench.turn(-detents);
      expect(bench.panel[1]).toBe('12.00 s');
      bench.seconds(1);
    }
  });

  it('pushed goes through base, dodges, burns and the next pass, and round', () => {
    const bench = ready();
    const seen = Array.from({ length: 8 }, () => {
      bench.push();
      return `${bench.panel[1]} | ${bench.panel[2]} | ${bench.panel[3]}`;
    });
    expect(seen).toEqual([
      '12.00 s | boathouse | Knob: whole recipe',
      '12.00 s | boathouse | Knob: base, seconds',
      '-1/3 stop | jetty | Knob: this dodge',
      '-1/2 stop | facade | Knob: this dodge',
      '+1 stop | sky | Knob: this burn',
      '+1/2 stop | left edge | Knob: this burn',
      'Turn: another pass | whole sheet | Next: pass 1/3',
      '2.48 s  filter 2 1/2 | jetty | Dodge 1/2 pass 1/3',
    ]);
  });

  it('goes the same way round whatever its paper is called', () => {
    const [without, longest] = [undefined, 'é'.repeat(24)].map((paper) => {
      const bench = new EveningBench();
      bench.greet();
      bench.print(paper === undefined ? boathouse : { ...boathouse, paper });
      bench.focusAndStopDown();
      bench.tap();
      bench.answer();
      return Array.from({ length: 9 }, () => {
        bench.push();
        return bench.panel.join('|');
      });
    });
    expect(longest).toEqual(without);
  });

  // Stops alone never came to it from most bases: 12 s went by 10.09 and 9.52.
  it('turns the base to 10.00 s exactly, in round seconds, whatever the setting says', () => {
    for (const step of [12, 0]) {
      const bench = ready();
      bench.ask({ type: 'set-setting', id: 0, name: 'knob-step', value: step });
      bench.push();
      bench.push();
      for (let clicks = 0; clicks < 4; clicks++) {
        bench.seconds(0.5);
        bench.turn(-1);
      }
      expect(bench.panel.slice(1)).toEqual(['10.00 s', 'boathouse', 'Knob: base, seconds']);
      giveRest(bench);
      expect(entries(bench, 'recipe-change')).toMatchObject([
        { what: 'base', pass: 0, dodge: 0, baseMs: 10_000, stops120: 0 },
      ]);
      expect(entries(bench, 'sheet')).toMatchObject([{ baseMs: 10_000 }]);
    }
  });

  it('turns one burn or one dodge alone, and the log tells which', () => {
    const bench = ready();
    for (let pushes = 0; pushes < 4; pushes++) bench.push();
    bench.turn(-1);
    bench.push();
    bench.turn(3);
    giveRest(bench);
    expect(entries(bench, 'recipe-change')).toMatchObject([
      { what: 'dodge', pass: 1, dodge: 2, stops120: -70, baseMs: 12_000 },
      { what: 'pass', pass: 2, dodge: 0, stops120: 150, baseMs: 12_000 },
    ]);
    // 12 s x (2^(5/4) - 1), by definition.
    expect(bench.pulses.at(-2)).toBe(16_541_000);
  });

  it('leaves a figure as it is where the plan would not do', () => {
    const bench = ready();
    for (let pushes = 0; pushes < 3; pushes++) bench.push();
    bench.turn(9);
    expect(bench.panel[1]).toBe('-1/3 stop');
    giveRest(bench);
    expect(entries(bench, 'recipe-change')).toEqual([]);
  });

  it('skips a pass', () => {
    const bench = ready();
    for (let pushes = 0; pushes < 7; pushes++) bench.push();
    bench.turn(1);
    expect(bench.panel).toEqual(['Tap yes Hold back', 'Leave out pass 1?', 'sky', 'Next: pass 2/3']);
    bench.tap();
    expect(bench.panel).toEqual(['Filter in? Tap', 'Put in 00', 'Take out 2 1/2', 'Pass 2: sky']);
    bench.tap();
    expect(bench.panel).toEqual(['Tap start Hold back', '12.00 s    filter 00', 'sky', 'Burn, pass 2/3']);
    giveRest(bench);
    expect(bench.pulses.slice(1)).toEqual([12_000_000, 4_971_000]);
  });

  it('gives a pass again, between passes and after the last one, on the same sheet', () => {
    const bench = ready();
    for (let taps = 0; taps < 3; taps++) {
      bench.tap();
      bench.seconds(10);
    }
    expect(bench.panel[3]).toBe('Pass 2: sky');
    bench.turn(-1);
    expect(bench.panel).toEqual([
      'Tap yes Hold back',
      'Give pass 1 again?',
      'whole sheet',
      'Same sheet, 1/3',
    ]);
    giveRest(bench);
    bench.turn(-1);
    expect(bench.panel).toEqual(['Tap yes Hold back', 'Give pass 3 again?', 'left edge', 'Same sheet, 3/3']);
    bench.answer();
    expect(bench.panel).toEqual([
      'Tap start Hold back',
      '4.97 s     filter 00',
      'left edge',
      'Burn, pass 3/3 again',
    ]);
    giveRest(bench);
    const given = bench.log().flatMap((entry) => (entry.type === 'exposure' ? [entry.pass] : []));
    expect(given.slice(1)).toEqual([1, 1, 2, 3, 3]);
    expect(entries(bench, 'sheet')).toHaveLength(1);
  });

  it('does nothing while the lamp is on, in a pause, or with a foot on the pedal', () => {
    const bench = ready();
    bench.board.pedal(true);
    bench.seconds(0.1);
    bench.turn(5);
    bench.push();
    bench.board.pedal(false);
    bench.seconds(0.5);
    bench.turn(5);
    bench.push();
    bench.tap();
    bench.turn(5);
    giveRest(bench);
    expect(bench.pulses.slice(1).reduce((sum, us) => sum + us)).toBe(28_971_000);
  });
});

describe('a recipe that the knob changed', () => {
  it('says which version it would be kept over, up to the last but one that there is', () => {
    for (const version of [1, 0x7fff, 0x8000, 0xfffe]) {
      const bench = rest();
      bench.print({ ...boathouse, version });
      bench.tap();
      bench.turn(1);
      bench.holdKnob();
      bench.holdKnob();
      expect(bench.panel.slice(0, 4)).toEqual([
        ...['Tap keep Hold rest', 'Turn: another name', 'boathouse', `over version ${version}`],
      ]);
    }
  });

  // It was kept as version 0: older, by comparison, than all that was kept before.
  it('when no version is left is kept under another name, and never over its own', () => {
    const bench = rest();
    bench.print({ ...boathouse, version: 0xffff });
    bench.tap();
    bench.turn(1);
    bench.holdKnob();
    bench.holdKnob();
    const asked = ['Tap keep Hold rest', 'Turn: another name', 'negative-1', 'new: no version left'];
    expect(bench.panel).toEqual(asked);
    bench.turn(-3);
    expect(bench.panel).toEqual(asked);
    bench.tap();
    bench.seconds(2);
    // 12 s x 2^(1/12), by definition.
    expect(bench.ask({ type: 'recipe-list', id: 0 })).toMatchObject([
      { name: 'boathouse', version: 0xffff, baseMs: 12_000 },
      { name: 'negative-1', version: 1, baseMs: 12_714 },
      { name: 'skelder-mere' },
      { type: 'ended' },
    ]);
    expect(entries(bench, 'recipe-version')).toMatchObject([{ recipe: 'negative-1', version: 1 }]);
    bench.holdKnob();
    expect(bench.panel.slice(2)).toEqual(['negative-1', 'is kept as it is']);
  });

  it('is kept as the next version by holding the knob once the print is done, and the laptop can fetch it', () => {
    const bench = ready();
    bench.turn(2);
    giveRest(bench);
    expect(bench.panel.slice(2)).toEqual(['Hold knob: keep it', 'Sheet 1 done']);
    bench.keep();
    expect(bench.panel.slice(2)).toEqual(['boathouse', 'Sheet 1 done']);
    expect(entries(bench, 'recipe-version')).toMatchObject([{ recipe: 'boathouse', version: 2 }]);
    const fetched = bench.ask({ type: 'recipe-get', id: 0, name: 'boathouse' });
    // 12 s x 2^(1/6), by definition.
    expect(fetched.find((line) => line.type === 'recipe-head')).toMatchObject({ version: 2, baseMs: 13_470 });
  });

  it('stays changed while other things are chosen, until it is kept or fetched anew', () => {
    const bench = ready();
    bench.turn(2);
    bench.holdKnob();
    expect(bench.panel).toEqual(['Tap print Hold focus', '13.47 s base', 'boathouse', 'Hold knob: keep it']);
    bench.turn(-1);
    bench.turn(1);
    expect(bench.panel[1]).toBe('13.47 s base');
    bench.ask({ type: 'choose', id: 0, job: 'recipe', name: 'boathouse' });
    expect(bench.panel.slice(1)).toEqual(['12.00 s base', 'boathouse', '']);
  });

  it('survives a power cut once it is kept', () => {
    const bench = ready();
    bench.turn(2);
    bench.holdKnob();
    bench.keep();
    bench.board.cutPower();
    bench.board.restorePower();
    bench.seconds(1);
    bench.turn(1);
    expect(bench.panel.slice(1)).toEqual(['13.47 s base', 'boathouse', '']);
  });
});

describe('the knob before a strip', () => {
  it('goes through first time, step, patches, the card and the filter', () => {
    const bench = new EveningBench();
    bench.focusAndStopDown();
    bench.tap();
    const seen = [12, -1, -1, 1, 1, 5].map((clicks) => {
      bench.push();
      bench.turn(clicks);
      return `${bench.panel[1]} | ${bench.panel[2]} | ${bench.panel[3]}`;
    });
    expect(seen).toEqual([
      '4.00 s | 6 patches, 1 st | Knob: first time',
      '3.50 s | 6 patches, 1 st | Knob: first, seconds',
      '1/2 stop | 6 patches, 1/2 st | Knob: step',
      '7 | 7 patches, 1/2 st | Knob: patches',
      'Each patch alone | 7 patches, 1/2 st | Knob: the card',
      'filter 2 | 7 patches, 1/2 st | Knob: filter',
    ]);
    bench.answer();
    bench.tap();
    bench.seconds(5);
    // 3.5 s x 2^(1/2), by definition.
    expect(bench.panel.slice(1)).toEqual(['4.95 s      filter 2', 'Cover all but this', 'Patch 2/7 4.95 s']);
  });
});
