import { describe, expect, it } from 'vitest';
import { loadPlanner } from '../../host/planner/index.js';
import { limits } from '../../shared-protocol/limits.js';
import { note, tableOf } from './notes.js';

const numbers = (text: string) => [...text.matchAll(/\d+(?:\.\d+)?/g)].map(([digits]) => Number(digits));

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
