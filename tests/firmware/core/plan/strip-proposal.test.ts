import { describe, expect, it } from 'vitest';
import { loadCore } from '../../../../host/recipe/planner/core.js';
import { limits } from '../../../../shared-protocol/limits.js';
import { verdict } from '../../../../shared-protocol/schema.js';
import { Random } from '../../../setup/random.js';
import { EveningBench } from '../evening/evening-bench.js';

const core = loadCore();
const NEGATIVES = 1000;
const TWELFTH = 1 / 12;

interface Strip {
  readonly firstMs: number;
  readonly stops120: number;
  readonly patches: number;
}
const firstStrip: Strip = { firstMs: 2000, stops120: 120, patches: 6 };

/** What is proposed after a strip; undefined when what was seen is the base. */
function after(strip: Strip, seen: (typeof verdict.options)[number], bestMs: number): Strip | undefined {
  const at = verdict.options.indexOf(seen);
  if (core.nextStrip(at, bestMs, strip.firstMs, strip.stops120, 0, strip.patches) === 0) return undefined;
  return {
    firstMs: core.nextStripFirstMs(),
    stops120: core.nextStripStops120(),
    patches: core.nextStripPatches(),
  };
}

/** Perfect eyes: whichever of the patches, or between which two, is nearest in stops. */
function readingMs({ firstMs, stops120, patches }: Strip, rightMs: number): number {
  const choices = Array.from({ length: 2 * patches - 1 }, (_, at) =>
    core.readMs(firstMs, stops120, 0, at >> 1, at & 1),
  );
  return choices.reduce((best, ms) => (stopsOff(ms, rightMs) < stopsOff(best, rightMs) ? ms : best));
}

const stopsOff = (ms: number, rightMs: number) => Math.abs(Math.log2(ms / rightMs));

it('the strip that the host takes for the usual one is the one that a new board has', () => {
  const { panel } = new EveningBench();
  const [firstMs, stops120] = [core.usualStripFirstMs(), core.usualStripStops120()];
  expect(panel[1]).toMatch(/^[.\d]+ s first$/);
  expect(Number.parseFloat(panel[1]!) * 1000).toBe(firstMs);
  expect(panel[2]).toBe(`${core.usualStripPatches()} patches, ${stops120 / 120} st`);
});

describe('the strip that the board proposes', () => {
  it(`finds ${NEGATIVES} bases anywhere in five stops to 1/12 stop with two strips`, () => {
    const random = new Random(7);
    for (let negative = 0; negative < NEGATIVES; negative++) {
      const rightMs = 2000 * 2 ** (5 * random.share());
      const second = after(firstStrip, 'patch', readingMs(firstStrip, rightMs))!;
      const bestMs = readingMs(second, rightMs);
      expect(stopsOff(bestMs, rightMs)).toBeLessThanOrEqual(TWELFTH);
      expect(after(second, 'patch', bestMs)).toBeUndefined();
    }
  });

  // A strip of two-stop steps once led to 13 patches, which no strip may have, and so to no strip at all.
  it.each([240, 120, 60, 40, 30, 24])(
    'covers all that a strip of steps of %d/120 stop left open, in patches that a strip may have',
    (stops120) => {
      const second = after({ firstMs: 2000, stops120, patches: 4 }, 'patch', 16_000)!;
      expect(second.patches).toBeLessThanOrEqual(limits.stripPatches);
      const lastMs = core.patchMs(second.firstMs, second.stops120, 0, second.patches - 1);
      expect(Math.log2(16_000 / second.firstMs)).toBeGreaterThanOrEqual(stops120 / 240);
      expect(Math.log2(lastMs / 16_000)).toBeGreaterThanOrEqual(stops120 / 240);
    },
  );

  it('is none where half a step of the last one is a twelfth of a stop or less', () => {
    for (let stops120 = 1; stops120 <= 240; stops120++) {
      const next = after({ firstMs: 2000, stops120, patches: 4 }, 'patch', 9000);
      expect(next === undefined, `steps of ${stops120}/120`).toBe(stops120 / 120 / 2 <= TWELFTH);
    }
  });

  // Its second patch, by definition, gets 2^step - 1 of what the first has; a lamp must be able to give that much.
  it('has steps as fine as its lamp allows once the lens is stopped down, and never finer than tenths', () => {
    const random = new Random(11);
    try {
      for (let negative = 0; negative < 400; negative++) {
        core.setLamp(0, random.below(1001));
        const leastMs = core.minimumDoseMs();
        const bestMs = 1000 + random.below(20_000);
        const { stops120 } = after(firstStrip, 'patch', bestMs)!;
        const closedMs = bestMs * 2 ** Math.max(0, Math.ceil(Math.log2(8000 / bestMs)));
        const pieceMs = (step: number) => closedMs * 2 ** (-(120 + step) / 240) * (2 ** (step / 120) - 1);
        // Times are whole milliseconds, and offsets whole 1/120 stop: half of one is 0.003 of a time.
        const slackMs = 2 + 0.003 * leastMs;
        if (stops120 < 120) expect(pieceMs(stops120)).toBeGreaterThan(leastMs - slackMs);
        if (stops120 > 12) expect(pieceMs(stops120 - 1)).toBeLessThan(leastMs + slackMs);
      }
    } finally {
      core.setLamp(0, 0);
    }
  });

  it('goes by coarser steps where a slow lamp could not give tenths of a stop', () => {
    core.setLamp(0, 400);
    try {
      const { firstMs, stops120, patches } = after(firstStrip, 'patch', 8000)!;
      expect([stops120, patches]).toEqual([25, 7]);
      const pieceMs = core.patchMs(firstMs, stops120, 0, 1) - firstMs;
      expect(pieceMs).toBeGreaterThanOrEqual(core.minimumDoseMs());
    } finally {
      core.setLamp(0, 0);
    }
  });

  it('begins with the patch that was the last of one all too light, and ends with the first of one all too dark', () => {
    expect(after(firstStrip, 'too-light', 0)).toEqual({ firstMs: 64_000, stops120: 120, patches: 6 });
    const dark = after({ firstMs: 32_000, stops120: 60, patches: 5 }, 'too-dark', 0)!;
    expect(dark).toEqual({ firstMs: 8000, stops120: 60, patches: 5 });
    expect(core.patchMs(dark.firstMs, dark.stops120, 0, dark.patches - 1)).toBe(32_000);
  });

  // From 5 to 10 s is a stop, by definition, and five of those below 5 s are 156 ms.
  it('goes by stops after one in equal seconds that was all too dark, by those between its first two patches', () => {
    const seen = verdict.options.indexOf('too-dark');
    expect(core.nextStrip(seen, 0, 5000, 0, 5000, 6)).toBe(1);
    expect([core.nextStripFirstMs(), core.nextStripStops120(), core.nextStripPatches()]).toEqual([
      156, 120, 6,
    ]);
  });

  it.each(['too-dark', 'too-light'] as const)(
    'has steps, however near the patches of one in equal seconds were that was all %s',
    (seen) => {
      core.nextStrip(verdict.options.indexOf(seen), 0, 20_000, 0, 20, 6);
      expect(core.nextStripStops120()).toBeGreaterThan(0);
    },
  );

  it('never goes above an hour nor below what the lamp can give', () => {
    expect(after({ firstMs: 1_000_000, stops120: 120, patches: 2 }, 'too-light', 0)).toMatchObject({
      firstMs: 2_000_000,
      patches: 2,
    });
    expect(after(firstStrip, 'too-dark', 0)).toMatchObject({ firstMs: 100 });
  });

  // Twice 1,100 s are 2,200 s, and twice that is longer than an hour.
  it('is of two patches where an hour has room for no third, whatever there were before', () => {
    for (const patches of [2, 3, 6]) {
      const strip = { firstMs: 1_100_000 / 2 ** (patches - 1), stops120: 120, patches };
      expect(after(strip, 'too-light', 0)).toEqual({ firstMs: 1_100_000, stops120: 120, patches: 2 });
    }
  });

  // A laptop may tell of another lamp before the strip is read.
  it('has no coarser steps than the one before, though the lamp could not give finer ones', () => {
    try {
      core.setLamp(-500, 1000);
      for (const stops120 of [21, 30, 60]) {
        const next = after({ firstMs: 2, stops120, patches: 6 }, 'patch', 5)!;
        expect(next.stops120).toBe(stops120);
      }
    } finally {
      core.setLamp(0, 0);
    }
  });

  it('closes the lens by whole stops until there are 8 s to dodge in', () => {
    expect([8000, 7999, 4000, 3999, 500].map((ms) => core.stopsDown(ms))).toEqual([0, 1, 1, 2, 4]);
  });
});
