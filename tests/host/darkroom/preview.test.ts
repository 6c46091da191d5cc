import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { commonEnlarger, easelLux, leftWideOpen } from '../../../host/darkroom/light/enlarger.js';
import { LampTrace, lampFromLagAndRise } from '../../../host/darkroom/light/lamp.js';
import { boathouseNegative } from '../../../host/darkroom/negative/demo-negative.js';
import { commonPaper, Paper } from '../../../host/darkroom/paper/paper.js';
import { readPaper } from '../../../host/darkroom/paper/paper-file.js';
import {
  luxOf,
  luxSecondsThatSuit,
  picturePrint,
  previewPrint,
  previewStrip,
  setupOf,
  shapesOf,
} from '../../../host/darkroom/picture/preview.js';
import { sheetAsGiven, sheetAsPlanned } from '../../../host/darkroom/sheet/exposed-sheet.js';
import { FileError, readRecipe } from '../../../host/recipe/index.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { projectRoot } from '../../../shared-protocol/project.js';

const planner = loadPlanner();
const paper = new Paper(commonPaper);
const negative = boathouseNegative(160);
const demo = readRecipe(readFileSync(join(projectRoot, 'host', 'evening', 'boathouse.json')));
const plan = planner.planRecipe(demo);

/** Mean grey of a rectangle in per cent of the picture; light is high. */
function greyAt(
  picture: { width: number; height: number; pixels: Uint8Array },
  x: number,
  y: number,
  half = 2,
): number {
  let sum = 0;
  let count = 0;
  for (
    let row = Math.round(((y - half) / 100) * picture.height);
    row < ((y + half) / 100) * picture.height;
    row++
  )
    for (
      let column = Math.round(((x - half) / 100) * picture.width);
      column < ((x + half) / 100) * picture.width;
      column++
    ) {
      sum += picture.pixels[row * picture.width + column]!;
      count += 1;
    }
  return sum / count;
}

describe('the preview of a print', () => {
  it('places every dodge and burn of the demonstration recipe', () => {
    expect(previewPrint(demo, plan, { negative, paper }).unplaced).toEqual([]);
  });

  it('lightens the face and darkens the sky against the straight print', () => {
    const straight = { ...demo, passes: [{ ...demo.passes[0]!, dodges: [] }] };
    const worked = previewPrint(demo, plan, { negative, paper }).picture;
    const plain = previewPrint(straight, planner.planRecipe(straight), { negative, paper }).picture;
    expect(greyAt(worked, 38, 54)).toBeGreaterThan(greyAt(plain, 38, 54) + 10);
    expect(greyAt(worked, 30, 5)).toBeLessThan(greyAt(plain, 30, 5) - 20);
    expect(greyAt(worked, 90, 92)).toBeCloseTo(greyAt(plain, 90, 92), 0);
  });

  it('says which dodge or burn has no place, and does not burn the whole sheet instead', () => {
    const bare = {
      ...demo,
      passes: demo.passes.map(({ shape, ...pass }) => ({
        ...pass,
        dodges: pass.dodges.map(({ shape: _, ...dodge }) => dodge),
      })),
    };
    const { picture, unplaced } = previewPrint(bare, plan, { negative, paper });
    expect(unplaced).toEqual(['face', 'slipway', 'sky', 'far hills']);
    const straight = { ...demo, passes: [{ ...demo.passes[0]!, dodges: [] }] };
    expect(picture.pixels).toEqual(
      previewPrint(straight, planner.planRecipe(straight), { negative, paper }).picture.pixels,
    );
  });

  it('supposes an enlarger on which the middle of the negative prints at 0.60 above base', () => {
    const luxSeconds = luxSecondsThatSuit(negative, paper, plan);
    expect(luxOf(demo, plan, { negative, paper }) * (plan.baseMs / 1000)).toBeCloseTo(luxSeconds, 6);
    expect(luxSeconds).toBeGreaterThan(15);
    expect(luxSeconds).toBeLessThan(45);
  });

  it('is three stops darker with the lens left wide open', () => {
    const enlarger = { ...commonEnlarger, luxWideOpen: 16 };
    const setup = setupOf(demo);
    const right = luxOf(demo, plan, { negative, paper, enlarger });
    const open = luxOf(demo, plan, { negative, paper, enlarger, setup: leftWideOpen(enlarger, setup) });
    expect(open / right).toBeCloseTo(8, 9);
    expect(easelLux(enlarger, setup)).toBe(right);
  });

  it('refuses a filter that the paper has no figures for, by name', () => {
    const odd = { ...demo, passes: [{ ...demo.passes[0]!, filter: 'Y60' }] };
    expect(() => previewPrint(odd, planner.planRecipe(odd), { negative, paper })).toThrow(
      /no figures for filter Y60/,
    );
  });
});

describe('a print from the relay’s edges', () => {
  const lamp = { lagMs: 150, riseMs: 90 };
  const conditions = { lamp };
  const onMs = planner
    .planRecipe(demo, conditions)
    .passes.flatMap((pass) => pass.segments.map((segment) => segment.onMs));
  const pulsesUs = onMs.map((ms) => Math.round(ms * 1000));

  function given(pulses: readonly number[]) {
    let atUs = 0;
    const edges = pulses.flatMap((onUs) => {
      const fromUs = atUs + 3_000_000;
      atUs = fromUs + onUs;
      return [
        { atUs: fromUs, on: true },
        { atUs, on: false },
      ];
    });
    const trace = new LampTrace(lampFromLagAndRise(lamp.lagMs, lamp.riseMs), edges);
    const carried = planner.carryOutRecipe(demo, pulses, conditions);
    return sheetAsGiven(plan, shapesOf(demo), 2, { carried, edges, trace });
  }

  it('is the planned print, light for light, within half a per cent', () => {
    const planned = sheetAsPlanned(plan, shapesOf(demo), 2).lights;
    const real = given(pulsesUs).lights;
    expect(real).toHaveLength(planned.length);
    real.forEach((light, index) => {
      expect(light.luxSeconds / planned[index]!.luxSeconds).toBeCloseTo(1, 2);
      expect(Math.abs(light.luxSeconds / planned[index]!.luxSeconds - 1)).toBeLessThan(0.005);
      expect(light.tool).toEqual(planned[index]!.tool);
    });
  });

  it('stays unfinished where the printer stopped, and the picture shows it', () => {
    const stopped = given(pulsesUs.slice(0, 3));
    expect(stopped.lights).toHaveLength(3);
    const whole = picturePrint(given(pulsesUs), { negative, paper }).picture;
    const unburned = picturePrint(stopped, { negative, paper }).picture;
    expect(greyAt(unburned, 30, 5)).toBeGreaterThan(greyAt(whole, 30, 5) + 20);
  });
});

describe('the preview of a strip', () => {
  const strip = planner.planStrip({ firstMs: 5000, step: { stops120: 60 }, patches: 5, cover: 'cumulative' });

  it('gets darker patch by patch, from the left', () => {
    const even = { ...negative, samples: new Uint16Array(negative.samples.length).fill(12_000) };
    const picture = previewStrip(strip, 'cumulative', '2', 2.2, { negative: even, paper });
    const greys = [10, 30, 50, 70, 90].map((x) => greyAt(picture, x, 50));
    expect([...greys].sort((a, b) => b - a)).toEqual(greys);
    expect(new Set(greys).size).toBe(5);
  });

  it('shows the same patches when each was exposed alone', () => {
    const separate = planner.planStrip({
      firstMs: 5000,
      step: { stops120: 60 },
      patches: 5,
      cover: 'separate',
    });
    const alone = previewStrip(separate, 'separate', '2', 2.2, { negative, paper });
    expect(alone.pixels).toEqual(previewStrip(strip, 'cumulative', '2', 2.2, { negative, paper }).pixels);
  });

  it('is darker where the lamp gave more than was planned', () => {
    const more = strip.exposures.map(({ doseMs }) => doseMs * 1.3);
    const planned = previewStrip(strip, 'cumulative', '2', 2.2, { negative, paper });
    expect(
      greyAt(previewStrip(strip, 'cumulative', '2', 2.2, { negative, paper }, more), 70, 90),
    ).toBeLessThan(greyAt(planned, 70, 90) - 5);
  });
});

describe('a paper’s own file', () => {
  it('is read with common densities where it says none', () => {
    const own = readPaper('{"name":"mine","filters":[{"filter":"","speedP":320,"rangeR":105}]}');
    expect(own).toMatchObject({
      baseDensity: 0.05,
      maximumDensity: 2.1,
      filters: { '': { speedP: 320, rangeR: 105 } },
    });
    expect(new Paper(own).filterNames).toEqual(['']);
  });

  it('is refused with every fault in its place', () => {
    expect(() => readPaper('{')).toThrow(FileError);
    expect(() => readPaper('{"name":"","filters":[{"filter":"2","speedP":0,"rangeR":105}]}')).toThrow(
      /line 1, column \d+, name: .*\nline 1, column \d+, filters\[0\]\.speedP: /,
    );
  });
});
