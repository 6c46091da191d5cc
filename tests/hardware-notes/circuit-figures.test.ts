import { describe, expect, it } from 'vitest';
import { note, tableOf } from './notes.js';

const flat = (name: string) => note(name).replace(/\s+/g, ' ');
const wiring = flat('wiring.md');
const mains = flat('mains.md');
/** What the notes say where `pattern` has a group, as numbers. */
const said = (text: string, pattern: RegExp) => pattern.exec(text)!.slice(1).map(Number);
const beside = (one: number, other: number) => (one * other) / (one + other);

const supplyV = 5;
const coilA = 0.09;
/** RP2040 datasheet section 5.2.3: pull-ups and pull-downs, in kilohms. */
const pullsKilohm = [50, 80];

describe('the figures of the circuits, by Ohm', () => {
  it("have what a pin gives to a gate, far below its 4 mA, and where the driver's gates lie", () => {
    const [pinMa] = said(wiring, /3\.3 V \/ \(1 kΩ \+ 10 kΩ\) = ([\d.]+) mA/);
    expect(pinMa).toBeCloseTo(3.3 / (1 + 10), 2);
    const [drainMa, gateV] = said(wiring, /= ([\d.]+) mA; Q2's gate is then ([\d.]+) V below/);
    expect(drainMa).toBeCloseTo(supplyV / (10 + 1), 2);
    expect(gateV).toBeCloseTo((supplyV * 10) / (10 + 1), 1);
  });

  it('have what a pin meets with its own pull beside what is outside', () => {
    const outsideKilohm = (words: string) =>
      [...words.matchAll(/([\d.]+) kΩ/g)].reduce((sum, [, kilohm]) => sum + Number(kilohm), 0);
    let checked = 0;
    for (const [pin, pull, outside, together] of tableOf('wiring.md', 'Pin')) {
      if (pull === 'none' || outside!.includes('piezo') || outside === 'nothing') continue;
      const [least, most] = said(together!, /^([\d.]+) to ([\d.]+) kΩ/);
      expect(least, pin).toBeCloseTo(beside(outsideKilohm(outside!), pullsKilohm[0]!), 1);
      expect(most, pin).toBeCloseTo(beside(outsideKilohm(outside!), pullsKilohm[1]!), 1);
      checked++;
    }
    expect(checked).toBe(7);
  });

  it('have what a starting coil takes from C1 in a millisecond', () => {
    const [microfarad, milliampere, dipV] = said(
      wiring,
      /C1, (\d+) µF: a coil of (\d+) mA .*? takes ([\d.]+) V/,
    );
    expect(dipV).toBeCloseTo((milliampere! / 1000) * 0.001 * (1e6 / microfarad!), 2);
  });

  it('have what a coil sees at worst, and that it is enough for a warm one', () => {
    const [worstV, seenV, warmV] = said(
      wiring,
      /at its worst \(([\d.]+) V\).*?a coil sees ([\d.]+) V.*?needs ([\d.]+) V/,
    );
    const wireOhm = 2 * 0.079;
    expect(seenV).toBeCloseTo(worstV! - 0.5 * 2 * coilA - (0.2 + wireOhm) * coilA, 2);
    expect(warmV).toBeCloseTo(0.75 * supplyV * (1 + 40 * 0.004), 2);
    expect(seenV).toBeGreaterThan(warmV!);
  });

  it('have what C1 pushes through a crushed link', () => {
    const [ohms, amperes] = said(wiring, /5 V over the ([\d.]+) Ω of Q2 and 2 m of wire are (\d+) A/);
    expect(ohms).toBeCloseTo(0.2 + 2 * 0.079, 2);
    expect(amperes).toBe(Math.round(supplyV / ohms!));
  });

  it('have what the data line gives to a laptop that is off', () => {
    const [milliampere] = said(wiring, /3\.3 V through 1\.5 kΩ, ([\d.]+) mA/);
    expect(milliampere).toBeCloseTo(3.3 / 1.5, 1);
  });

  it("have how soon the bleeder empties the snubber's capacitor", () => {
    const [crestV, stored] = said(mains, /keep up to (\d+) V .*?: ([\d.]+) mJ/);
    expect(crestV).toBe(Math.round(253 * Math.SQRT2));
    expect(stored).toBeCloseTo(0.5 * 100e-9 * crestV! ** 2 * 1000, 1);
    const [constantS, safeS, watts] = said(
      mains,
      /Time constant ([\d.]+) s, below 60 V after ([\d.]+) s, ([\d.]+) W together/,
    );
    const bleederOhm = 2 * 470e3;
    expect(constantS).toBeCloseTo(bleederOhm * 100e-9, 3);
    expect(safeS).toBeCloseTo(bleederOhm * 100e-9 * Math.log(crestV! / 60), 2);
    expect(watts).toBeCloseTo(253 ** 2 / bleederOhm, 2);
  });
});
