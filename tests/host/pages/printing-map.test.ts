import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { boathouseNegative } from '../../../host/darkroom/negative/demo-negative.js';
import { commonPaper, Paper } from '../../../host/darkroom/paper/paper.js';
import { render } from '../../../host/darkroom/picture/render.js';
import { wholeSheet } from '../../../host/darkroom/sheet/sheet.js';
import { printingMapHtml, printingMapSvg } from '../../../host/pages/map/printing-map.js';
import { backdropOf } from '../../../host/pages/map/scan-backdrop.js';
import { areasOf, orderOfWork } from '../../../host/pages/map/work.js';
import { type Recipe, readRecipe } from '../../../host/recipe/index.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { shapeSchema } from '../../../host/recipe/shape.js';
import { demoFile } from '../recipe/demo-recipe.js';
import { hostileTexts, openTags, suspiciousParts } from './hostile-text.js';

const planner = loadPlanner();
const face = shapeSchema.parse({
  kind: 'ellipse',
  centreXPercent: 38,
  centreYPercent: 53,
  widthPercent: 6,
  heightPercent: 12,
});

/** Base 12.5 s through filter 2 with the face dodged by a third, sky burned by 3/4 through 00. */
function demo(): Recipe {
  const recipe = readRecipe(JSON.stringify(demoFile()));
  const [base, sky] = recipe.passes;
  return { ...recipe, passes: [{ ...base!, dodges: [{ ...base!.dodges[0]!, shape: face }] }, sky!] };
}

const svgOf = (recipe: Recipe, options = {}) => printingMapSvg(recipe, planner.planRecipe(recipe), options);
const textsOf = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, text]) => text!);

/** As many passes, dodges, letters and lines as a recipe's file may hold. */
function fullest(): Recipe {
  const shape = shapeSchema.parse({
    kind: 'rectangle',
    leftPercent: 5,
    topPercent: 5,
    widthPercent: 9,
    heightPercent: 9,
  });
  const dodge = { label: 'MMMMMMMMMMMMMMMM', stops120: -31, shape };
  const pass = {
    kind: 'base',
    label: 'WWWWWWWWWWWWWWWW',
    filter: 'WWWWWWWW',
    stops120: 0,
    dodges: [dodge, dodge],
  } as const;
  return {
    ...demo(),
    title: 'M'.repeat(80),
    negative: 'W'.repeat(80),
    paper: 'W'.repeat(80),
    notes: 'word '.repeat(800),
    history: Array.from({ length: 200 }, (_, index) => `2027-03-06 ${index}${'x'.repeat(60)}`),
    passes: Array.from({ length: 12 }, () => pass),
  };
}

describe('the order of work on a printing map', () => {
  it('is what the board will do, with areas numbered in that order', () => {
    const recipe = demo();
    const lines = orderOfWork(recipe, planner.planRecipe(recipe));
    // Source: base 12.5 s; dodge of 1/3: 12.5 x (1 - 2^-(1/3)) = 2.579 s; burn of 3/4: 12.5 x (2^0.75 - 1) =
    // 8.522 s, computed.
    expect(lines.map(({ what, stops, doseMs, area }) => [what, stops, doseMs, area?.number])).toEqual([
      ['base', '0', 12_500, undefined],
      ['dodge face', '−1/3', 2579, 1],
      ['no dodge', '', 9921, undefined],
      ['burn sky', '+3/4', 8522, 2],
    ]);
    expect(lines.map(({ pedalFirst }) => pedalFirst)).toEqual([false, true, true, true]);
    expect(areasOf(lines).map(({ kind }) => kind)).toEqual(['dodge', 'burn']);
  });
});

describe('the printing map', () => {
  it('says what the print is, every time and filter, and where an area has no place', () => {
    const texts = textsOf(
      svgOf({ ...demo(), dryDown10: 80, notes: 'Small wire disc.', history: ['2027-03-06 sky +3/4'] }),
    );
    for (const expected of [
      'Boathouse at dusk',
      'base 12.5s',
      '27-14, frame 9',
      'f/8',
      '4.25 x',
      '8% off: base 11.5s (−0.12 stop)',
      'dodge face',
      'face −1/3',
      '11.50',
      'Small wire disc.',
      '2027-03-06 sky +3/4',
      'not drawn, no shape given: 2',
    ])
      expect(texts).toContain(expected);
  });

  it('is drawn in black, white and greys only', () => {
    const colours = [...svgOf(demo()).matchAll(/(?:fill|stroke)="(#[^"]+)"/g)].map(([, colour]) => colour!);
    expect(new Set(colours)).toEqual(new Set(['#000', '#fff']));
  });

  it.each([0.5, 0.8, 1, 1.5, 3])(
    'keeps the fullest recipe on one page, whatever the print’s shape (%d)',
    (aspect) => {
      for (const recipe of [{ ...demo(), notes: 'Small wire disc.' }, fullest()]) {
        const svg = svgOf(recipe, { aspect });
        const heights = [...svg.matchAll(/ y="([\d.]+)"/g)].map(([, y]) => Number(y));
        expect(Math.max(...heights)).toBeLessThanOrEqual(297);
        const table = [
          ...svg.matchAll(/<text[^>]* y="([\d.]+)"[^>]*>(?:no dodge|base, W+…?|burn sky)</g),
        ].map(([, y]) => Number(y));
        const notes = Number(/<text[^>]* y="([\d.]+)"[^>]*>(?:notes|history)</.exec(svg)?.[1] ?? 297);
        expect(table.length).toBeGreaterThan(0);
        expect(Math.max(...table)).toBeLessThan(notes);
        expect(notes).toBeLessThan(285);
      }
    },
  );

  it('says how much of the notes and history stays in the file', () => {
    const texts = textsOf(svgOf(fullest()));
    expect(texts.some((text) => /^\(\d+ earlier in the recipe/.test(text))).toBe(true);
    expect(texts.some((text) => text.startsWith('word word') && text.endsWith('…'))).toBe(true);
  });

  it.each(hostileTexts)('is text wherever a recipe says %j', (hostile) => {
    const recipe = demo();
    const [base, sky] = recipe.passes;
    const worst: Recipe = {
      ...recipe,
      title: hostile,
      negative: hostile,
      paper: hostile,
      notes: hostile,
      history: [hostile],
      passes: [
        { ...base!, label: hostile, filter: hostile, dodges: [{ ...base!.dodges[0]!, label: hostile }] },
        { ...sky!, label: hostile, filter: hostile },
      ],
    };
    const html = printingMapHtml(worst, planner.planRecipe(worst));
    expect(suspiciousParts(html)).toEqual([]);
    expect(openTags(svgOf(worst))).toEqual([]);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what it looks for
    expect(html).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e]/);
  });

  it('as a page lets nothing run and nothing load', () => {
    const html = printingMapHtml(demo(), planner.planRecipe(demo()));
    expect(html).toContain(`content="default-src 'none'; img-src data:; style-src 'unsafe-inline'"`);
  });

  it('over a scan shows the print pale enough to write on', async () => {
    const picture = render(
      wholeSheet(new Paper(commonPaper), [{ filter: '2', luxSeconds: 400 }]),
      boathouseNegative(80),
    );
    const backdrop = await backdropOf(picture);
    const { channels } = await sharp(Buffer.from(backdrop.pngBase64, 'base64')).stats();
    expect(channels[0]!.min).toBeGreaterThanOrEqual(140);
    expect(svgOf(demo(), { backdrop })).toContain('data:image/png;base64,');
  });

  it('can be drawn by an SVG reader at the size of the page', async () => {
    const { width, height } = await sharp(Buffer.from(svgOf(demo())), { density: 72 }).metadata();
    // A4, ISO 216: 210 x 297 mm; at 72 to the inch 595 x 842.
    expect([width, height]).toEqual([595, 842]);
  });
});
