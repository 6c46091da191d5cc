import { describe, expect, it } from 'vitest';
import { loadPlanner } from '../../host/recipe/planner/index.js';
import { limits } from '../../shared-protocol/limits.js';
import { coreSource, note, tableOf } from './notes.js';

const numbers = (text: string) => [...text.matchAll(/\d+(?:\.\d+)?/g)].map(([digits]) => Number(digits));

/** What the board's lamp test is made of, from the plan that the firmware gives. */
const lampTest = (name: string) => {
  const found = new RegExp(`LAMP_TEST_${name}: i(?:32|64) = ([\\d_]+);`).exec(
    coreSource('jobs/lamp-test/lamp-test-plan.ts'),
  );
  return Number(found![1]!.replaceAll('_', ''));
};
const gapUs = Number(
  /PULSE_GAP_US: i64 = ([\d_]+);/.exec(coreSource('plan/pulses.ts'))![1]!.replaceAll('_', ''),
);
const pulses = lampTest('PULSES');
const lampTestMs = lampTest('MS');
/** n pulses lose n lags, one exposure loses one: computed from the model in the core's lamp.ts. */
const togetherMs = (lagMs: number) => lampTestMs + (pulses - 1) * lagMs;

describe('the figures in the notes', () => {
  it('have the baud rates that the data sheet gives', () => {
    // RP2040 datasheet section 4.2.7.1, with the 125 MHz that the firmware runs its UART at.
    const clockHz = 125_000_000;
    const rates = tableOf('serial.md', 'Baud');
    for (const [baudText, divisorText, setText, reallyText, errorText] of rates) {
      const baud = Number(baudText);
      const divisor = clockHz / (16 * baud);
      const set = Math.floor((divisor % 1) * 64 + 0.5) / 64 + Math.floor(divisor);
      const really = clockHz / (16 * set);
      const [whole, sixtyFourths] = numbers(setText!);
      expect(Number(divisorText)).toBeCloseTo(divisor, 4);
      expect(whole! + sixtyFourths! / 64).toBe(set);
      expect(Number(reallyText)).toBe(Math.round(really));
      expect(errorText).toBe(signed((really / baud - 1) * 100));
    }
    expect(rates.map(([baud]) => baud)).toEqual(['115200', '921600']);
  });

  it("have the lag that the core's own lamp needs for twelve short pieces to match that patch", () => {
    const planner = loadPlanner();
    const patches = tableOf('lamp-calibration.md', 'Patch that matches');
    expect(patches).toHaveLength(limits.stripPatches);
    for (const [patchText, lagText] of patches) {
      const [lagMs] = numbers(lagText!);
      const [patchS] = numbers(patchText!);
      // Where the text sends the reader to longer pieces, and slow lamps, the table may be off by its step.
      const lamp = { lagMs: lagMs!, riseMs: Math.min(lagMs!, 100) };
      const pieces = 12 * planner.doseMs(500, lamp);
      const single = planner.doseMs(patchS! * 1000, lamp);
      expect(Math.abs(pieces - single)).toBeLessThan(lagMs! <= 100 ? 11 * 5 : 11 * 10);
    }
  });

  it("have what each piece of 0.15 s loses by the core's own lamp", () => {
    const planner = loadPlanner();
    for (const [lagText, ...losses] of tableOf('lamp-calibration.md', 'Lag L')) {
      const [lagMs] = numbers(lagText!);
      const expected = [0.5, 1, 1.5, 2].map((factor) => {
        const dose = planner.doseMs(150, { lagMs: lagMs!, riseMs: Math.round(lagMs! * factor) });
        return Math.round(150 - dose);
      });
      expect(losses.map((text) => numbers(text)[0])).toEqual(expected);
    }
  });

  it("have the patches of the board's own lamp test, as the firmware plans them", () => {
    const planner = loadPlanner();
    const patches = tableOf('lamp-calibration.md', 'Patch');
    expect(patches).toHaveLength(lampTest('PATCHES'));
    for (const [index, [patch, lag, panel, together, takes]] of patches.entries()) {
      const lagMs = index * lampTest('STEP_MS');
      const ms = togetherMs(lagMs);
      expect([patch, lag]).toEqual([`${index + 1}`, `${lagMs} ms`]);
      expect(panel).toBe(`${pulses} x ${(Math.round(ms / pulses / 10) / 100).toFixed(2)} s`);
      expect(together).toBe(`${(ms / 1000).toFixed(2)} s`);
      // From the first pulse to the last one's end.
      const wholeMs = ms + ((pulses - 1) * gapUs) / 1000;
      expect(Math.abs(numbers(takes!)[0]! * 1000 - wholeMs)).toBeLessThanOrEqual(50);
      // A lamp of that lag gives both the same light, by the core's own lamp.
      const lamp = { lagMs, riseMs: Math.round(lagMs / 2) };
      expect(
        Math.abs(pulses * planner.doseMs(ms / pulses, lamp) - planner.doseMs(lampTestMs, lamp)),
      ).toBeLessThan(pulses);
    }
  });

  it("have what a step of the board's own lamp test is, in per cent and stops", () => {
    const stepMs = togetherMs(lampTest('STEP_MS')) - lampTestMs;
    const text = note('lamp-calibration.md').replace(/\s+/g, ' ');
    const said = /15 x 20 ms = (\d+) ms on (\d) s: ([\d.]+) %, ([\d.]+) stop/
      .exec(text)!
      .slice(1)
      .map(Number);
    expect(said.slice(0, 3)).toEqual([stepMs, lampTestMs / 1000, (100 * stepMs) / lampTestMs]);
    expect(said[3]).toBeCloseTo(Math.log2(1 + stepMs / lampTestMs), 3);
  });

  it("have the lag that the board's own test finds for a slow lamp of unknown rise, by the core's own lamp", () => {
    const planner = loadPlanner();
    for (const [lagText, ...found] of tableOf('lamp-calibration.md', "Lamp's lag")) {
      const [lagMs] = numbers(lagText!);
      const expected = [1, 1.5].map((factor) => {
        const lamp = { lagMs: lagMs!, riseMs: lagMs! * factor };
        const longMs = planner.doseMs(lampTestMs, lamp);
        const apartMs = (asked: number) =>
          Math.abs(pulses * planner.doseMs(togetherMs(asked) / pulses, lamp) - longMs);
        const asked = Array.from({ length: lagMs! + 1 }, (_, ms) => ms);
        return asked.reduce((best, ms) => (apartMs(ms) < apartMs(best) ? ms : best));
      });
      expect(found.map((text) => numbers(text)[0])).toEqual(expected);
    }
  });

  it("have the safelight's minutes that the firmware calls, and what follows from the band that differs", () => {
    const minutes = numbers(
      /BAND_MINUTES: usize = memory\.data<u8>\((.*?)\)/.exec(
        coreSource('jobs/safelight-test/safelight-plan.ts'),
      )![1]!,
    );
    const drawn = [...note('safelight-test.md').matchAll(/\| band (\d) +(\d) minute/g)];
    expect(drawn.map(([, band, lit]) => [Number(band), Number(lit)])).toEqual(
      minutes.map((lit, at) => [at + 1, lit]),
    );
    // Safe is the longest time that shows on neither half: a manufacturer's safelight test guide.
    const rows = tableOf('safelight-test.md', 'First band that differs');
    expect(rows).toEqual(
      minutes.map((lit, at) => [at + 1 < minutes.length ? `band ${at + 2}` : 'none', `${lit} min`]),
    );
  });

  it('have fuses of 1.5 to 2 times the current of the lamp, from memory', () => {
    for (const [lamp, at230, at120] of tableOf('mains.md', 'Lamp')) {
      const [watts] = numbers(lamp!);
      for (const [volts, text] of [
        [230, at230!],
        [120, at120!],
      ] as const) {
        const [current, fuse] = numbers(text);
        const amperes = text.includes('mA') ? fuse! / 1000 : fuse!;
        expect(current).toBe(Math.round((watts! / volts) * 100) / 100);
        expect(amperes / (watts! / volts)).toBeGreaterThanOrEqual(1.5);
        expect(amperes / (watts! / volts)).toBeLessThanOrEqual(2);
      }
    }
  });

  it('have what a switch that is off by half a cycle costs in stops', () => {
    // 10 ms is half a cycle at 50 Hz, 5 ms what a mechanical relay's on and off delays may differ by.
    const stops = (errorMs: number, doseMs: number) => Math.log2(1 + errorMs / doseMs);
    const rows = new Map(tableOf('relay.md', '').map(([name, ...rest]) => [name, rest]));
    for (const [name, doseMs] of [
      ['Error at 2 s', 2000],
      ['Error at 0.5 s', 500],
    ] as const) {
      const [mechanical, solid] = rows.get(name)!;
      expect(numbers(mechanical!)[0]).toBeCloseTo(stops(5, doseMs), 3);
      expect(numbers(solid!)[0]).toBeCloseTo(stops(10, doseMs), 3);
    }
  });

  it('have a recipe of twelve equal pieces for the lamp', () => {
    const { base, passes } = JSON.parse(note('lamp-pieces.json'));
    expect(base).toBe('0.5s');
    expect(passes).toHaveLength(12);
    expect(new Set(passes.map((pass: unknown) => JSON.stringify(pass))).size).toBe(1);
  });
});

function signed(percent: number): string {
  return `${percent < 0 ? '-' : '+'}${Math.abs(percent).toFixed(3)} %`;
}
