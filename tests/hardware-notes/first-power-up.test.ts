import { describe, expect, it } from 'vitest';
import { coreSource, note, noteNames } from './notes.js';

const text = note('first-power-up.md');
const [cold, mains] = text.split('## With mains, the electrician beside you') as [string, string];

/** Number, title and text of each step. */
const steps = [
  ...text.matchAll(/^- \[ \] \*\*(\d+)\. ([^*]+?)\.?\*\*([\s\S]*?)(?=^- \[ \] |^## |$(?![\s\S]))/gm),
].map(([, number, title, words]) => ({
  number: Number(number),
  title: title!,
  words: words!.replace(/\s+/g, ' '),
}));
const step = (title: string) => steps.find((each) => each.title === title)!;

describe('the first power-up', () => {
  it('has its steps in order, and speaks of no step that is not there', () => {
    expect(steps.map(({ number }) => number)).toEqual(steps.map((_, index) => index + 1));
    for (const [, numbers] of text.matchAll(/[Ss]teps? ([\d, and]+)/g))
      for (const [number] of numbers!.matchAll(/\d+/g))
        expect(Number(number)).toBeLessThanOrEqual(steps.length);
  });

  it('has every step that another note names', () => {
    for (const name of noteNames('.md'))
      for (const [, named] of note(name).matchAll(/[Ss]teps?\s+(_[^_]+_(?:(?:,| and)\s+_[^_]+_)*)/g))
        for (const [, title] of named!.matchAll(/_([^_]+)_/g))
          expect(step(title!.replace(/\s+/g, ' ')), title).toBeDefined();
  });

  it('brings mains in where it says so, after everything that needs none', () => {
    const first = Number(/\*\*(\d+)\./.exec(mains)![1]);
    expect(text).toContain(`No lamp and no mains until step ${first}.`);
    expect(cold).toContain(`Until step ${first} the mains box is unplugged.`);
  });

  it('asks for no meter in the mains box once mains is there, only for the bulb, with the box shut', () => {
    expect(mains).toMatch(/the mains box stays shut and the meter in its case/);
    expect(mains).toMatch(/judged by the bulb, and by nothing else/);
    expect(mains.replace('the meter in its case', '')).not.toMatch(/\bmeter\b|contact/);
  });

  it('repeats with a bulb the steps that need K1', () => {
    const again = [...step('A bulb').words.matchAll(/Steps ([\d, and]+) again/g)][0]![1]!
      .match(/\d+/g)!
      .map(Number);
    const titles = ['The pedal lights the lamp, and nothing else does', 'Ten seconds', 'It fails dark'];
    expect(again).toEqual(titles.map((title) => step(title).number));
  });

  it("pulls K1 in a hundred times by the board's own checkup, with no mains", () => {
    const [, pullIns] = /PULL_INS: i32 = (\d+);/.exec(coreSource('jobs/checkup/checkup-plan.ts'))!;
    expect(step('A hundred times').words).toContain(`K1 clicks ${pullIns} times`);
    expect(cold).toContain('`treadle checkup` to its end');
    expect(mains).not.toContain('treadle checkup');
  });

  it("and a hundred times more, with a bulb, by the board's own lamp test", () => {
    const plan = coreSource('jobs/lamp-test/lamp-test-plan.ts');
    const [patches, pulses] = ['PATCHES', 'PULSES'].map((name) =>
      Number(new RegExp(`LAMP_TEST_${name}: i32 = (\\d+);`).exec(plan)![1]),
    );
    expect(step('A bulb').words).toContain(`${patches} x ${pulses} = ${patches! * pulses!} times`);
    expect(patches! * pulses!).toBeGreaterThanOrEqual(100);
  });

  it('never takes a pin with a pull for an open one', () => {
    expect(text).not.toMatch(/GPIO 6 to GND: open/);
    expect(step('Meter, control box').words).toMatch(/GPIO 6 to 3\.3 V: 3\.2 kΩ/);
  });
});
