import { escapeXml } from '../escape.js';

type Attributes = Readonly<Record<string, string | number | undefined>>;

/** One SVG element; attributes and text are escaped, `inner` is SVG already. Numbers have two decimals. */
export function element(name: string, attributes: Attributes, inner = ''): string {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === 'number' ? coordinate(value) : escapeXml(value!)}"`)
    .join('');
  return inner === '' ? `<${name}${written}/>` : `<${name}${written}>${inner}</${name}>`;
}

/** A line of text; `attributes` such as text-anchor are optional. */
export function textAt(
  x: number,
  y: number,
  size: number,
  text: string,
  attributes: Attributes = {},
): string {
  return element('text', { x, y, 'font-size': size, ...attributes }, escapeXml(text) || '\u00a0');
}

export function lineBetween(
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  width: number,
  attributes: Attributes = {},
): string {
  return element('line', { x1, y1, x2, y2, stroke: '#000', 'stroke-width': width, ...attributes });
}

export function coordinate(value: number): string {
  return String(Math.round(value * 100) / 100);
}

/** Black sans serif with figures of equal width, as both kinds of page use it. */
export const pageFont = 'Helvetica, Arial, "Liberation Sans", "DejaVu Sans", sans-serif';

/**
 * A page of HTML around one drawing. Nothing in it may run or load: the policy forbids scripts and everything
 * that is not in the page itself.
 */
export function htmlPage(title: string, style: string, body: string): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeXml(title)}</title>
<style>${style}</style>
</head>
<body>
${body}
</body>
</html>
`;
}
