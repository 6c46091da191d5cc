import { describe, expect, it } from 'vitest';
import { limits } from '../../../../shared-protocol/index.js';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';
import { changeDocument } from './kept-document.js';

// No outside source: what the board shows and gives after the power was off is held against the same without that.

const SHELF_AT = 0x12_0000;
/** Sixteen figures, two filters and a name: all that a desk was before a sheet lay on it. */
const OLD_DESK_BYTES = 16 * 4 + 2 * 28 + 24;

function evening(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
  return bench;
}

function offAndOn(bench: EveningBench): void {
  bench.seconds(3);
  bench.offAndOn();
}

function strip(bench: EveningBench, filter = ''): void {
  bench.ask({
    ...{ type: 'strip-set', id: 0, firstMs: 8000, stepStops120: 20, stepMs: 0, patches: 3 },
    ...{ cover: 'cumulative', filter },
  });
}

/** All lights of what is chosen. */
function give(bench: EveningBench): void {
  bench.tap();
  for (let lights = 0; lights < 30 && !bench.panel[0]!.startsWith('Tap again'); lights++) {
    bench.answer();
    bench.tap();
    bench.seconds(60);
  }
}

/** The second patch, which a strip by sixths makes the base. */
function readSecond(bench: EveningBench): void {
  bench.push();
  bench.turn(-9);
  bench.turn(3);
  bench.push();
  bench.seconds(2);
}

const recipes = (bench: EveningBench) =>
  bench
    .ask({ type: 'recipe-list', id: 0 })
    .flatMap((line) => (line.type === 'recipe-line' ? [line.name] : []));
const choose = (bench: EveningBench, job: 'recipe' | 'bracket' | 'strip' | 'process', name = '') =>
  expect(bench.ask({ type: 'choose', id: 0, job, name })).toMatchObject([{ type: 'ok' }]);

/** Every screen on which a light of it is offered. */
function lightsOf(bench: EveningBench): string[] {
  const screens: string[] = [];
  bench.tap();
  for (let lights = 0; lights < 30 && !bench.panel[0]!.startsWith('Tap again'); lights++) {
    // Which filter was in before is not known any more.
    bench.answer();
    screens.push(bench.panel.join('|'));
    bench.tap();
    bench.seconds(60);
  }
  return screens;
}

/** The same with and without the power off where it stands. */
function bothWays<Seen>(before: (bench: EveningBench) => void, after: (bench: EveningBench) => Seen): Seen[] {
  return [false, true].map((isCut) => {
    const bench = evening();
    before(bench);
    if (isCut) offAndOn(bench);
    else bench.seconds(4);
    return after(bench);
  });
}

describe('over power-off', () => {
  it('a strip for the recipe in use makes that its base, and one for another negative a recipe under its filter', () => {
    for (const isNew of [false, true]) {
      const [ever, cut] = bothWays(
        (bench) => {
          bench.print(boathouse);
          strip(bench, '3 1/2');
          if (isNew) bench.turn(-1);
          give(bench);
        },
        (bench) => {
          readSecond(bench);
          return [bench.panel, lightsOf(bench)];
        },
      );
      expect(cut).toEqual(ever);
      expect(JSON.stringify(cut)).toContain(isNew ? 'negative-1' : 'boathouse');
      if (isNew) expect(JSON.stringify(cut)).toContain('3 1/2');
    }
  });

  it('a recipe that the knob merely turned is not set aside for another, and has all its passes', () => {
    const turned = (bench: EveningBench) => {
      bench.send({ ...boathouse, name: 'other' });
      bench.print(boathouse);
      bench.tap();
      bench.push();
      bench.turn(1);
      bench.hold();
    };
    const [ever, cut] = bothWays(turned, lightsOf);
    expect(cut).toEqual(ever);
    expect(cut!.join('|')).toContain('left edge');
    const [listed, listedAfter] = bothWays(turned, (bench) => {
      choose(bench, 'recipe', 'other');
      bench.seconds(3);
      return recipes(bench);
    });
    expect(listedAfter).toEqual(listed);
    expect(listed).toEqual(['boathouse', 'other']);
  });

  it('a recipe that is kept comes as it is kept, though it lay on the desk changed once', () => {
    const [ever, cut] = bothWays(
      (bench) => {
        bench.print(boathouse);
        bench.tap();
        bench.push();
        bench.turn(1);
        bench.hold();
        bench.seconds(3);
        choose(bench, 'recipe', 'boathouse');
        choose(bench, 'strip');
        bench.turn(-1);
      },
      (bench) => {
        const inUse = bench.panel[3];
        choose(bench, 'recipe', 'boathouse');
        return { inUse, kept: bench.panel };
      },
    );
    expect(cut!.kept).toEqual(ever!.kept);
    expect(cut!.kept[3]).toBe('');
    // None is in use before one is chosen, as in every evening that begins.
    expect([ever!.inUse, cut!.inUse]).toEqual(['for another negative', '']);
  });

  it('a base that was found is set aside with all passes of its recipe', () => {
    const bench = evening();
    bench.send({ ...boathouse, name: 'other' });
    bench.print(boathouse);
    strip(bench);
    give(bench);
    readSecond(bench);
    choose(bench, 'recipe', 'other');
    bench.seconds(3);
    const [aside] = recipes(bench).filter((name) => name.startsWith('negative-'));
    expect(aside).toBeDefined();
    choose(bench, 'recipe', aside);
    const lights = lightsOf(bench);
    expect(lights.join('|')).toMatch(/jetty.*facade.*sky.*left edge/);
  });

  // What is set aside lies in memory before the times by temperature.
  it('the longest recipe that is set aside gives no bath a time by temperature', () => {
    const bench = evening();
    bench.send({ ...boathouse, name: 'other' });
    const dodges = Array.from({ length: limits.recipeDodges }, (_, at) => ({
      ...{ label: `dodge ${at + 1}`, stops120: -3.3 },
    }));
    bench.print({
      ...{ name: 'longest', baseMs: 60_000 },
      passes: Array.from({ length: limits.recipePasses }, (_, at) => ({
        ...{ kind: at === 0 ? ('base' as const) : ('burn' as const), label: `pass ${at + 1}`, filter: '2' },
        ...(at === 0 ? { stops120: 0, dodges } : { stops120: 30.3 }),
      })),
    });
    strip(bench);
    give(bench);
    readSecond(bench);
    choose(bench, 'recipe', 'other');
    bench.seconds(3);
    expect(recipes(bench).some((name) => name.startsWith('negative-'))).toBe(true);
    bench.ask({ type: 'set-setting', id: 0, name: 'tray-c10', value: 200 });
    choose(bench, 'process');
    bench.tap();
    expect(bench.panel.slice(1, 3)).toEqual(['1:30', 'developer']);
  });

  it('the bracket of a recipe that is gone is not what an evening begins with', () => {
    const bench = evening();
    bench.print(boathouse);
    choose(bench, 'bracket', boathouse.name);
    give(bench);
    bench.seconds(3);
    bench.ask({ type: 'recipe-remove', id: 0, name: boathouse.name });
    offAndOn(bench);
    expect(bench.panel.slice(1)).toEqual(new EveningBench().panel.slice(1));
    // Nor is it there to be read, which new firmware would wait for.
    expect(bench.ask({ type: 'make-way', id: 0, ask: true })).not.toMatchObject([{ type: 'error' }]);
    expect(bench.panel[1]).toBe('New firmware?');
  });

  it('a sheet that the power was cut from is told as the one sheet that is wasted', () => {
    const bench = evening();
    bench.print(boathouse);
    bench.tap();
    bench.answer();
    bench.tap();
    bench.seconds(1);
    bench.offAndOn();
    expect(entries(bench, 'sheet-ended')).toMatchObject([
      { boot: 2, sheet: 1, outcome: 'interrupted', prints: 0, strips: 0, wasted: 1 },
    ]);
  });

  it('paper, tray and first tone are as the knob turned them', () => {
    const turned = (bench: EveningBench, figure: string) => {
      bench.pushTo(figure);
      expect(bench.panel[3]).toContain(figure);
      bench.seconds(1);
      bench.turn(1);
      bench.push();
      bench.hold();
    };
    for (const [figure, name] of [
      ['paper', 'fibre-paper'],
      ['temperature', 'tray-c10'],
      ['first tone', 'first-tone-factor'],
    ] as const) {
      const [ever, cut] = bothWays(
        (bench) => {
          for (const [point, trayC10] of [180, 240].entries())
            bench.ask({
              ...{ type: 'point-set', id: 0, point: point + 1, points: 2, label: 'developer', trayC10 },
              ...{ resinCoatedSeconds: 90, fibreSeconds: 90 },
            });
          bench.ask({ type: 'choose', id: 0, job: 'process', name: '' });
          bench.tap();
          turned(bench, figure);
        },
        (bench) => {
          const [line] = bench.ask({ type: 'get-setting', id: 0, name });
          return line !== undefined && 'value' in line ? line.value : line;
        },
      );
      expect(cut).toEqual(ever);
      expect(cut).not.toBe(0);
    }
  });
});

/** How often the desk was written so far: the flash says it of the newest. */
function timesWritten(bench: EveningBench): number {
  const { flash } = bench.board;
  const sectors = Array.from({ length: flash.size / limits.sectorBytes }, (_, at) => at * limits.sectorBytes);
  const heads = sectors.map((at) => Buffer.from(flash.read(at, 64)));
  const desks = heads.filter((head) => head.toString('latin1', 31, 36) === '\x04desk');
  return Math.max(0, ...desks.map((head) => head.readUInt32LE(20)));
}

it('a sheet that waits is written once for each time that the lamp goes out', () => {
  const bench = evening();
  bench.print({ ...boathouse, passes: boathouse.passes.slice(1) });
  bench.tap();
  bench.answer();
  bench.seconds(3);
  for (let pauses = 0; pauses < 3; pauses++) {
    bench.tap();
    bench.seconds(1);
    const before = timesWritten(bench);
    bench.tap();
    bench.seconds(3);
    expect(bench.panel[0]).toMatch(/^Tap go on/);
    expect(timesWritten(bench)).toBe(before + 1);
  }
});

it('a sheet that waits between two dodges is written as well', () => {
  const bench = evening();
  bench.print(boathouse);
  bench.tap();
  bench.answer();
  bench.seconds(3);
  for (let dodges = 0; dodges < 2; dodges++) {
    const before = timesWritten(bench);
    bench.tap();
    bench.seconds(10);
    expect(bench.board.lampOn).toBe(false);
    expect(bench.panel[3]).toMatch(dodges === 0 ? /^Dodge 2\/2/ : /^Base/);
    expect(timesWritten(bench)).toBe(before + 1);
  }
});

describe('what lies on the desk at power-up', () => {
  /** Sequence by sequence, the documents on the shelf that count: each that is written has the next one. */
  const written = ({ board: { flash } }: EveningBench) =>
    Array.from({ length: 96 }, (_, sector) => {
      const header = Buffer.from(flash.read(SHELF_AT + sector * limits.sectorBytes + 16, 16));
      const [sequence, kind] = [header.readUInt32LE(0), header[14]!];
      return kind === 0 || kind === 0xff ? '' : `${kind} as ${sequence}`;
    });

  it.each<[string, (bench: EveningBench) => void]>([
    ['nothing', () => {}],
    ['a strip to be read', (bench) => give(bench)],
    [
      'a strip to be read, and a print that was left',
      (bench) => {
        give(bench);
        bench.print(boathouse);
        bench.tap();
        bench.answer();
        bench.tap();
        bench.seconds(2);
        bench.hold();
      },
    ],
  ])('%s lies there as it is, and is not written anew', (_, lay) => {
    const bench = evening();
    strip(bench);
    lay(bench);
    bench.seconds(3);
    const before = written(bench);
    offAndOn(bench);
    bench.seconds(3);
    expect(before.join('')).not.toBe('');
    expect(written(bench)).toEqual(before);
  });

  it('the desk of a firmware that kept no sheet on it has its strip', () => {
    const bench = evening();
    strip(bench, '3 1/2');
    bench.seconds(3);
    const wanted = bench.panel;
    changeDocument(bench, 'desk', (body) => body.subarray(0, OLD_DESK_BYTES));
    offAndOn(bench);
    expect(bench.panel).toEqual(wanted);
  });
});
