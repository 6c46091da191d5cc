import { shorten, textWidth } from '../page-text.js';
import { element, lineBetween, pageFont, textAt } from '../svg.js';
import { isUnscaled, type LoggedLight, type NightRow } from './night-rows.js';

/** All in pixels of a page 960 wide. */
const page = { width: 960, left: 8, right: 8, rowTop: 34 } as const;
const barsLeft = 208;
const bar = { height: 22, gap: 5, leastWidth: 2 } as const;
const rowHeight = 62;
const text = { title: 15, small: 12.5 } as const;
/** Light for focusing is as long as it takes: it is drawn at one width and says its time. */
const focusWidth = 54;

const hatchId = 'burn-light';
const focusId = 'focus-light';

/** The night's lamp, a row a sheet, every light as long as it shone, to one scale. */
export function lampTimelineSvg(rows: readonly NightRow[], localTime: (epochMs: number) => string): string {
  const scale = pixelsPerMs(rows);
  const height = page.rowTop + rows.length * rowHeight + 8;
  const body = rows.map((row, index) =>
    rowDrawing(row, rows[index - 1], page.rowTop + index * rowHeight, scale, localTime),
  );
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${page.width} ${height}`,
      width: page.width,
      'font-family': pageFont,
      role: 'img',
      'aria-label': 'Time line of the lamp, one row a sheet',
    },
    element('defs', {}, patterns()) + scaleBar(scale) + body.join(''),
  );
}

/** The longest row just fits. */
function pixelsPerMs(rows: readonly NightRow[]): number {
  const room = page.width - page.right - barsLeft;
  const fits = rows.map(({ lights }) => {
    const exposures = lights.filter((light) => !isUnscaled(light));
    const fixed = (lights.length - exposures.length) * focusWidth + lights.length * bar.gap;
    const lit = exposures.reduce((sum, light) => sum + shownMs(light), 0);
    return lit === 0 ? Number.POSITIVE_INFINITY : Math.max(room - fixed, room / 3) / lit;
  });
  return Math.min(WIDEST_PIXELS_PER_MS, ...fits);
}

/** A night of one short strip is not blown up beyond this: 40 pixels a second. */
const WIDEST_PIXELS_PER_MS = 0.04;

function shownMs({ plannedMs, doseMs }: LoggedLight): number {
  return Math.max(plannedMs, doseMs);
}

function patterns(): string {
  const stroke = (width: number) =>
    element('line', { x1: 0, y1: 0, x2: 0, y2: 6, stroke: '#000', 'stroke-width': width });
  const pattern = (id: string, turn: number, width: number) =>
    element(
      'pattern',
      { id, width: 6, height: 6, patternUnits: 'userSpaceOnUse', patternTransform: `rotate(${turn})` },
      element('rect', { width: 6, height: 6, fill: '#fff' }) + stroke(width),
    );
  return pattern(hatchId, 45, 3.4) + pattern(focusId, 90, 1);
}

const STEPS_S = [1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1800, 3600];

/** How long a stretch of the picture is, in round seconds, and what the bars mean. */
function scaleBar(scale: number): string {
  const seconds = STEPS_S.findLast((step) => step * 1000 * scale <= 150) ?? STEPS_S[0]!;
  const width = seconds * 1000 * scale;
  const y = 14;
  const ends = [barsLeft, barsLeft + width].map((x) => lineBetween(x, y - 4, x, y + 4, 1)).join('');
  return (
    lineBetween(barsLeft, y, barsLeft + width, y, 1) +
    ends +
    textAt(barsLeft + width + 6, y + 4.5, text.small, `${seconds} s of light`) +
    key(barsLeft + 270, y)
  );
}

function key(left: number, y: number): string {
  let x = left;
  return (['base', 'burn', 'strip', 'focus'] as const)
    .map((kind) => {
      const sample = element('rect', { x, y: y - 6, width: 18, height: 12, ...fills[kind] });
      const words = textAt(x + 23, y + 4.5, text.small, keyWords[kind]);
      x += 34 + textWidth(keyWords[kind], text.small);
      return sample + words;
    })
    .join('');
}

const keyWords = {
  base: 'base',
  burn: 'burn',
  strip: 'strip or test',
  focus: 'focusing, not to scale',
} as const;

const fills = {
  base: { fill: '#000', stroke: '#000', 'stroke-width': 1 },
  burn: { fill: `url(#${hatchId})`, stroke: '#000', 'stroke-width': 1 },
  strip: { fill: '#9a9a9a', stroke: '#000', 'stroke-width': 1 },
  focus: { fill: `url(#${focusId})`, stroke: '#000', 'stroke-width': 1 },
} as const;

/** Kinds of light by how they are drawn. */
const looks: Record<LoggedLight['kind'], keyof typeof fills> = {
  base: 'base',
  plain: 'base',
  burn: 'burn',
  strip: 'strip',
  bracket: 'strip',
  'lamp-test': 'strip',
  focus: 'focus',
  safelight: 'strip',
  stray: 'strip',
  checkup: 'focus',
};

function rowDrawing(
  row: NightRow,
  before: NightRow | undefined,
  top: number,
  scale: number,
  localTime: (epochMs: number) => string,
): string {
  const titleWidth = barsLeft - page.left - 12;
  const lines = [row.startMs === undefined ? '' : localTime(row.startMs), waited(row, before)].filter(
    (line) => line !== '',
  );
  return (
    lineBetween(page.left, top, page.width - page.right, top, 0.6, { stroke: '#aaa' }) +
    textAt(page.left, top + 22, text.title, shorten(row.title, text.title, titleWidth), {
      'font-weight': 'bold',
    }) +
    textAt(page.left, top + 42, text.small, shorten(lines.join(', '), text.small, titleWidth)) +
    bars(row.lights, top + 9, scale)
  );
}

function waited(row: NightRow, before: NightRow | undefined): string {
  if (row.startMs === undefined || before?.startMs === undefined) return '';
  const minutes = Math.round((row.startMs - before.startMs) / 60_000);
  return minutes < 1 ? '' : `${minutes} min later`;
}

function bars(lights: readonly LoggedLight[], top: number, scale: number): string {
  let x = barsLeft;
  let labelledTo = barsLeft;
  return lights
    .map((light) => {
      const width = isUnscaled(light) ? focusWidth : Math.max(bar.leastWidth, shownMs(light) * scale);
      const left = x;
      x += width + bar.gap;
      // A label may run on under the next bars, as long as it covers no other label.
      const room = Math.min(
        page.width - page.right - left,
        Math.max(width + bar.gap - 2, 0) + (light === lights.at(-1) ? 240 : 0),
      );
      const start = Math.max(left, labelledTo);
      const label = start - left > width ? '' : fitting(labelOf(light), left + room - start);
      if (label !== '') labelledTo = start + textWidth(label, text.small) + 5;
      return (
        barDrawing(light, left, top, width) +
        (label === '' ? '' : textAt(start, top + bar.height + 15, text.small, label))
      );
    })
    .join('');
}

/** The fullest of these that fits: name and time, the time, nothing. */
function fitting(labels: readonly string[], width: number): string {
  return labels.find((label) => textWidth(label, text.small) <= width) ?? '';
}

function labelOf(light: LoggedLight): string[] {
  // Light to focus by has no dose: what it took of the lamp is told.
  const lightMs = isUnscaled(light) ? light.onMs : light.doseMs;
  const time = `${Number((lightMs / 1000).toFixed(lightMs < 100_000 ? 2 : 0))} s`;
  const filter = light.filter === '' ? '' : ` (${light.filter})`;
  const pauses = light.pauses === 0 ? '' : `, ${light.pauses} pause${light.pauses === 1 ? '' : 's'}`;
  const cut = light.outcome === 'complete' || isUnscaled(light) ? '' : `, ${light.outcome}`;
  if (isUnlabelled(light)) return [`${time}${cut}`, time];
  return [`${light.label}${filter} ${time}${pauses}${cut}`, `${light.label} ${time}`, time];
}

/** The patches of a strip are told apart by their time alone. */
function isUnlabelled(light: LoggedLight): boolean {
  return looks[light.kind] === 'strip' || isUnscaled(light);
}

/** What was given is filled; what was planned and not given stays an empty outline, crossed. */
function barDrawing(light: LoggedLight, x: number, top: number, width: number): string {
  const share = isUnscaled(light) || light.plannedMs === 0 ? 1 : Math.min(1, light.doseMs / shownMs(light));
  const given = element('rect', {
    x,
    y: top,
    width: width * share,
    height: bar.height,
    ...fills[looks[light.kind]],
  });
  const pauses = Array.from({ length: light.pauses }, (_, pause) => {
    const at = x + (width * share * (pause + 1)) / (light.pauses + 1);
    return element('rect', { x: at - 1.5, y: top - 1, width: 3, height: bar.height + 2, fill: '#fff' });
  }).join('');
  if (share >= 0.995) return given + pauses;
  const rest = { x: x + width * share, width: width * (1 - share) };
  return (
    given +
    pauses +
    element('rect', {
      ...rest,
      y: top,
      height: bar.height,
      fill: 'none',
      stroke: '#000',
      'stroke-dasharray': '3 3',
    }) +
    lineBetween(rest.x, top + bar.height, rest.x + rest.width, top, 1)
  );
}
