import { dryDownStops } from '../../recipe/dry-down.js';
import { formatAperture10, formatDryDown10, formatTime, type Recipe } from '../../recipe/index.js';
import type { RecipePlan } from '../../recipe/planner/index.js';
import { shorten, textWidth, wrap } from '../page-text.js';
import { element, htmlPage, lineBetween, pageFont, textAt } from '../svg.js';
import type { Frame } from './area-drawing.js';
import { type Backdrop, numberMark, printFigure } from './figure.js';
import { areasOf, minus, orderOfWork, type WorkLine } from './work.js';
import { pedalSign, tableBounds, tableHeightMm, workTable } from './work-table.js';

export interface MapOptions {
  /** Width / height of the print; the backdrop's where there is one, and 3 : 2 where nothing is said. */
  readonly aspect?: number;
  readonly backdrop?: Backdrop;
}

/** An A4 sheet (ISO 216) and its margins: room for the holes of a file at the left. */
const page = { widthMm: 210, heightMm: 297, leftMm: 16, topMm: 13, rightMm: 12, bottomMm: 12 } as const;
const contentMm = page.widthMm - page.leftMm - page.rightMm;

/** Bold letters are this much wider. */
const BOLD = 1.12;
const HEADING_MM = 31;
const COMMON_ASPECT = 1.5;
const FIGURE_TALLEST_MM = 128;
const FIGURE_SHORTEST_MM = 52;
const NOTE_SIZE_MM = 3.3;
const NOTE_PITCH_MM = 4.8;
const RULED_PITCH_MM = 8;
/** Room that notes and history ask for, at least and at most. */
const REMARKS_LEAST_MM = 22;

/**
 * The printing map: one A4 page for the negative's file, with the print's outline and its areas, the order of
 * work, notes and history; black on white, and legible after a photocopier. What does not fit is shortened and
 * says so.
 * @param plan of this recipe, by the planner.
 */
export function printingMapSvg(recipe: Recipe, plan: RecipePlan, options: MapOptions = {}): string {
  const lines = orderOfWork(recipe, plan);
  const { figure, rowMm } = layout(lines, options);
  const tableTopMm = figure.topMm + figure.heightMm + 7.5;
  const remarksTopMm = tableTopMm + tableHeightMm(lines.length, rowMm) + 5;
  const body =
    heading(recipe, plan) +
    printFigure(areasOf(lines), figure, options.backdrop) +
    legend(figure.topMm + figure.heightMm + 4.6, lines) +
    workTable(lines, page.leftMm, tableTopMm, rowMm) +
    remarks(recipe, remarksTopMm) +
    foot(recipe);
  const size = `${page.widthMm} ${page.heightMm}`;
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: `${page.widthMm}mm`,
      height: `${page.heightMm}mm`,
      viewBox: `0 0 ${size}`,
      'font-family': pageFont,
      style: 'font-variant-numeric: tabular-nums',
      role: 'img',
      'aria-label': `Printing map: ${recipe.title}`,
    },
    element('rect', { width: page.widthMm, height: page.heightMm, fill: '#fff' }) + body,
  );
}

/** The same page as HTML, to be printed from a browser. */
export function printingMapHtml(recipe: Recipe, plan: RecipePlan, options: MapOptions = {}): string {
  const style =
    '@page{size:A4;margin:0}html{background:#ddd}body{margin:0}svg{display:block;margin:0 auto;max-width:100%;height:auto}' +
    '@media print{html{background:none}svg{width:210mm;height:297mm;max-width:none}}';
  return htmlPage(`Printing map: ${recipe.title}`, style, printingMapSvg(recipe, plan, options));
}

interface Layout {
  readonly figure: Frame;
  readonly rowMm: number;
}

/** The figure takes what the table leaves, rows shrink before the figure gets too small to draw in. */
function layout(lines: readonly WorkLine[], { aspect, backdrop }: MapOptions): Layout {
  const figureTopMm = page.topMm + HEADING_MM;
  const freeMm = page.heightMm - page.bottomMm - 6 - figureTopMm - 12.5 - REMARKS_LEAST_MM;
  const rows = lines.length + 1.4;
  const rowMm = Math.max(
    tableBounds.shortestRowMm,
    Math.min(tableBounds.tallestRowMm, (freeMm - FIGURE_SHORTEST_MM) / rows),
  );
  const ratio = backdrop?.aspect ?? aspect ?? COMMON_ASPECT;
  const heightMm = Math.min(
    FIGURE_TALLEST_MM,
    Math.max(FIGURE_SHORTEST_MM, freeMm - rows * rowMm),
    contentMm / ratio,
  );
  const widthMm = heightMm * ratio;
  const leftMm = page.leftMm + (contentMm - widthMm) / 2;
  return { figure: { leftMm, topMm: figureTopMm, widthMm, heightMm }, rowMm };
}

function heading(recipe: Recipe, plan: RecipePlan): string {
  const base = `base ${formatTime(recipe.baseMs)}`;
  const baseWidth = textWidth(base, 6.4) * BOLD;
  const facts = [
    ['negative', recipe.negative],
    ['paper', recipe.paper],
    ['lens', recipe.aperture10 === 0 ? '' : formatAperture10(recipe.aperture10)],
    ['size', sizeFact(recipe)],
    ['dry-down', dryDownFact(recipe, plan)],
  ].filter(([, value]) => value !== '') as [string, string][];
  const top = page.topMm;
  return (
    textAt(page.leftMm, top + 6, 6.4, shorten(recipe.title, 6.4 * BOLD, contentMm - baseWidth - 6), {
      'font-weight': 'bold',
    }) +
    textAt(page.leftMm + contentMm, top + 6, 6.4, base, { 'text-anchor': 'end', 'font-weight': 'bold' }) +
    lineBetween(page.leftMm, top + 9, page.leftMm + contentMm, top + 9, 0.7) +
    facts.map(([name, value], index) => fact(name, value, index, top + 14.2)).join('')
  );
}

/** Facts in two columns, three rows. */
function fact(name: string, value: string, index: number, topMm: number): string {
  const column = index % 2;
  const x = page.leftMm + column * (contentMm / 2 + 2);
  const y = topMm + Math.floor(index / 2) * 5.2;
  return textAt(x, y, 3.1, name) + textAt(x + 17, y, 3.7, shorten(value, 3.7, contentMm / 2 - 21));
}

function sizeFact({ magnification1000, columnHeightMm, focalLengthMm }: Recipe): string {
  const parts = [
    magnification1000 === 0 ? '' : `${magnification1000 / 1000} x`,
    columnHeightMm === 0 ? '' : `column ${columnHeightMm} mm`,
    focalLengthMm === 0 ? '' : `lens ${focalLengthMm} mm`,
  ];
  return parts.filter((part) => part !== '').join(', ');
}

function dryDownFact({ dryDown10 }: Recipe, plan: RecipePlan): string {
  if (dryDown10 === 0) return '';
  return `${formatDryDown10(dryDown10)} off: base ${formatTime(plan.baseMs)} (${minus(dryDownStops(dryDown10).toFixed(2))} stop)`;
}

/** What the signs mean, for whoever finds the page in a file years from now. */
function legend(baseline: number, lines: readonly WorkLine[]): string {
  const size = 2.9;
  const areas = areasOf(lines);
  const undrawn = areas.filter(({ shape }) => shape === undefined).map(({ number }) => number);
  let x = page.leftMm;
  const words = (text: string, gap: number) => {
    const drawn = textAt(x, baseline, size, text);
    x += textWidth(text, size) + gap;
    return drawn;
  };
  const sign = (drawn: string) => {
    x += 4;
    return drawn;
  };
  const middle = baseline - size * 0.36;
  return [
    sign(numberMark('dodge', '', x + 1.4, middle, 1.4)),
    words('dodge: less light', 4),
    sign(numberMark('burn', '', x + 1.4, middle, 1.4)),
    words('burn: more light', 4),
    sign(pedalSign(x + 1.4, middle, size)),
    words('the lamp waits for the pedal', 6),
    undrawn.length === 0 ? '' : words(`not drawn, no shape given: ${undrawn.join(', ')}`, 0),
  ].join('');
}

/** Notes and history side by side, then ruled lines for a pencil as far as the page goes. */
function remarks(recipe: Recipe, topMm: number): string {
  const bottomMm = page.heightMm - page.bottomMm - 7;
  const most = Math.max(1, Math.floor((bottomMm - topMm - 4) / NOTE_PITCH_MM));
  const columnMm = contentMm / 2 - 4;
  const notes = recipe.notes === '' ? [] : wrap(recipe.notes, NOTE_SIZE_MM, columnMm, most);
  const history = latest(recipe.history, columnMm, most);
  const rightMm = page.leftMm + contentMm / 2 + 4;
  const used = Math.max(notes.length, history.length);
  return (
    column('notes', notes, page.leftMm, topMm) +
    column('history', history, rightMm, topMm) +
    ruled(topMm + 4 + (used + 0.6) * NOTE_PITCH_MM, bottomMm)
  );
}

/** The newest lines of the history, oldest first, and how many went before. */
function latest(history: readonly string[], widthMm: number, most: number): string[] {
  const shown = history.length > most ? history.slice(history.length - most + 1) : history;
  const left = history.length - shown.length;
  const lines = shown.map((line) => shorten(line, NOTE_SIZE_MM, widthMm));
  return left === 0 ? lines : [`(${left} earlier in the recipe's file)`, ...lines];
}

function column(title: string, lines: readonly string[], leftMm: number, topMm: number): string {
  if (lines.length === 0) return '';
  return (
    textAt(leftMm, topMm, NOTE_SIZE_MM * 0.94, title, { 'font-weight': 'bold' }) +
    lines
      .map((line, index) => textAt(leftMm, topMm + 0.4 + (index + 1) * NOTE_PITCH_MM, NOTE_SIZE_MM, line))
      .join('')
  );
}

function ruled(fromMm: number, bottomMm: number): string {
  const lines: string[] = [];
  for (let y = fromMm + RULED_PITCH_MM * 0.6; y <= bottomMm; y += RULED_PITCH_MM)
    lines.push(lineBetween(page.leftMm, y, page.leftMm + contentMm, y, 0.12));
  return lines.join('');
}

function foot(recipe: Recipe): string {
  const baseline = page.heightMm - page.bottomMm;
  const left = `${recipe.name}, version ${recipe.version}`;
  const right = 'the board makes up for the lamp: its relay times differ';
  return (
    textAt(page.leftMm, baseline, 2.8, left) +
    textAt(page.leftMm + contentMm, baseline, 2.8, right, { 'text-anchor': 'end' })
  );
}
