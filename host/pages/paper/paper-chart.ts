import { coordinate, element, lineBetween, pageFont, textAt } from '../svg.js';

/** A paper's curves as they are drawn: density above paper white against stops. */
export interface PaperChart {
  readonly title: string;
  readonly subtitle: string;
  readonly panels: readonly ChartPanel[];
}

/** One filter. */
export interface ChartPanel {
  readonly name: string;
  /** Short lines of figures. */
  readonly figures: readonly string[];
  readonly curve: readonly ChartPoint[];
  readonly readings: readonly ChartReading[];
}

export interface ChartPoint {
  readonly stops: number;
  readonly density: number;
  readonly low: number;
  readonly high: number;
}

export interface ChartReading {
  readonly stops: number;
  readonly density: number;
  /** Not in the curve: drawn hollow. */
  readonly isLeftOut: boolean;
}

export interface ChartBounds {
  readonly fromStops: number;
  readonly toStops: number;
  readonly maxDensity: number;
}

/** Few filters get the whole width, so that title and caption have room. */
const PANEL_WIDTHS = [640, 400, 250, 250] as const;
const PANEL = { height: 330, gap: 18 } as const;
const MARGIN = { left: 58, right: 20, top: 96, bottom: 58 } as const;
const MOST_IN_ROW = 4;
const ROW_GAP = 74;

/** The panels stand side by side on one scale of densities; in each the other filters' curves are faint. */
export function paperChartSvg({ title, subtitle, panels }: PaperChart, bounds: ChartBounds): string {
  const columns = Math.min(MOST_IN_ROW, panels.length);
  const rows = Math.ceil(panels.length / columns);
  const panelWidth = PANEL_WIDTHS[columns - 1]!;
  const width = MARGIN.left + columns * panelWidth + (columns - 1) * PANEL.gap + MARGIN.right;
  const height = MARGIN.top + rows * PANEL.height + (rows - 1) * ROW_GAP + MARGIN.bottom;
  const drawn = panels.map((panel, at) => {
    const x = MARGIN.left + (at % columns) * (panelWidth + PANEL.gap);
    const y = MARGIN.top + Math.floor(at / columns) * (PANEL.height + ROW_GAP);
    const others = panels.filter((other) => other !== panel);
    return panelAt({ x, y, width: panelWidth }, panel, others, bounds, at % columns === 0);
  });
  const words = [
    textAt(MARGIN.left, 34, 22, title, { 'font-weight': 'bold' }),
    textAt(MARGIN.left, 58, 14, subtitle, { fill: '#444' }),
    textAt(
      MARGIN.left,
      height - 14,
      13,
      'Across: stops of light from what gives 0.60. Up: density above paper white. Shaded: 95 of 100 cases.',
      { fill: '#444' },
    ),
  ];
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width,
      height,
      viewBox: `0 0 ${width} ${height}`,
      'font-family': pageFont,
    },
    element('rect', { width, height, fill: '#fff' }) + words.join('') + drawn.join(''),
  );
}

interface Corner {
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

interface Scale {
  readonly x: (stops: number) => number;
  readonly y: (density: number) => number;
}

function panelAt(
  corner: Corner,
  panel: ChartPanel,
  others: readonly ChartPanel[],
  bounds: ChartBounds,
  isFirst: boolean,
): string {
  const scale = scaleAt(corner, bounds);
  const clip = `panel-${corner.x}-${corner.y}`;
  const inside = [
    ...others.map(({ curve }) => lineOf(curve, scale, '#c4c4c4', 1.5)),
    bandOf(panel.curve, scale),
    lineOf(panel.curve, scale, '#111', 2.4),
    ...panel.readings.map((reading) => dotOf(reading, scale)),
  ];
  return [
    textAt(corner.x, corner.y - 12, 17, panel.name, { 'font-weight': 'bold' }),
    gridOf(corner, scale, bounds, isFirst),
    element(
      'clipPath',
      { id: clip },
      element('rect', { x: corner.x, y: corner.y, width: corner.width, height: PANEL.height }),
    ),
    element('g', { 'clip-path': `url(#${clip})` }, inside.join('')),
    ...panel.figures.map((line, at) => textAt(corner.x + 10, corner.y + 22 + 18 * at, 14, line)),
  ].join('');
}

function scaleAt({ x, y, width }: Corner, { fromStops, toStops, maxDensity }: ChartBounds): Scale {
  return {
    x: (stops) => x + (width * (stops - fromStops)) / (toStops - fromStops),
    y: (density) => y + PANEL.height * (1 - density / maxDensity),
  };
}

const DENSITY_STEP = 0.5;

function gridOf({ x, y, width }: Corner, scale: Scale, bounds: ChartBounds, isFirst: boolean): string {
  const { fromStops, toStops, maxDensity } = bounds;
  const marks: string[] = [];
  for (let density = 0; density <= maxDensity + 1e-6; density += DENSITY_STEP) {
    const at = scale.y(density);
    marks.push(lineBetween(x, at, x + width, at, density === 0 ? 1.2 : 0.8, { stroke: '#d8d8d8' }));
    if (isFirst) marks.push(textAt(x - 8, at + 5, 13, density.toFixed(1), { 'text-anchor': 'end' }));
  }
  for (let stops = Math.ceil(fromStops); stops <= toStops; stops++) {
    const at = scale.x(stops);
    marks.push(
      lineBetween(at, y, at, y + PANEL.height, stops === 0 ? 1.2 : 0.8, {
        stroke: stops === 0 ? '#999' : '#e6e6e6',
      }),
    );
    if (stops % 2 === 0)
      marks.push(
        textAt(at, y + PANEL.height + 18, 13, stops > 0 ? `+${stops}` : `${stops}`, {
          'text-anchor': 'middle',
        }),
      );
  }
  return marks.join('');
}

function lineOf(curve: readonly ChartPoint[], scale: Scale, stroke: string, width: number): string {
  return element('path', {
    d: pathOf(curve.map(({ stops, density }) => [scale.x(stops), scale.y(density)])),
    fill: 'none',
    stroke,
    'stroke-width': width,
  });
}

function bandOf(curve: readonly ChartPoint[], scale: Scale): string {
  const upper = curve.map(({ stops, high }) => [scale.x(stops), scale.y(high)] as const);
  const lower = curve.map(({ stops, low }) => [scale.x(stops), scale.y(low)] as const).reverse();
  return element('path', { d: `${pathOf([...upper, ...lower])}Z`, fill: '#7fa6c9', 'fill-opacity': 0.45 });
}

function dotOf({ stops, density, isLeftOut }: ChartReading, scale: Scale): string {
  const [fill, stroke] = isLeftOut ? ['none', '#b00020'] : ['#1f5d8f', '#fff'];
  return element('circle', {
    cx: scale.x(stops),
    cy: scale.y(density),
    r: 4,
    fill,
    stroke,
    'stroke-width': 1.2,
  });
}

function pathOf(points: readonly (readonly [number, number] | readonly number[])[]): string {
  return points.map(([x, y], at) => `${at === 0 ? 'M' : 'L'}${coordinate(x!)} ${coordinate(y!)}`).join('');
}
