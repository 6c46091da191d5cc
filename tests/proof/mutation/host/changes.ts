/** What is done to one place of a TypeScript source: each a mistake that a person makes. */
import { parseAst } from 'vite';

interface Node {
  readonly type: string;
  readonly start: number;
  readonly end: number;
  readonly [key: string]: unknown;
}

export interface Change {
  readonly start: number;
  readonly end: number;
  readonly words: string;
  /** In place of an expression; nothing where a statement is left out. */
  readonly text: string | undefined;
}

const inPlaceOf: Readonly<Record<string, string>> = {
  '<': '<=',
  '<=': '<',
  '>': '>=',
  '>=': '>',
  '===': '!==',
  '!==': '===',
  '+': '-',
  '-': '+',
  '*': '/',
  '/': '*',
  '%': '*',
  '&': '|',
  '|': '&',
  '^': '|',
  '<<': '>>>',
  '>>': '<<',
  '>>>': '<<',
  '&&': '||',
  '||': '&&',
  '??': '&&',
};

/** What holds no code that runs, or no place for an expression. */
const beside = /^(Import|TS(?!AsExpression|NonNull|Satisfies)|Export(All|Specifier))/;

export function changesIn(source: string): Change[] {
  const found: Change[] = [];
  const text = (node: Node) => source.slice(node.start, node.end);
  const visit = (node: Node): void => {
    if (beside.test(node.type)) return;
    for (const change of changesOf(node, text)) found.push({ start: node.start, end: node.end, ...change });
    for (const child of childrenOf(node)) visit(child);
  };
  visit(parseAst(source, { lang: 'ts' }) as unknown as Node);
  return found;
}

const isNode = (value: unknown): value is Node => typeof (value as Node | null)?.type === 'string';

function childrenOf(node: Node): Node[] {
  const isKeyed = /Property|Method/.test(node.type) && node.computed !== true;
  return Object.entries(node)
    .filter(([key]) => !(isKeyed && key === 'key'))
    .flatMap(([, value]) => (Array.isArray(value) ? value : [value]))
    .filter(isNode);
}

type Kind = Pick<Change, 'words' | 'text'>;

function changesOf(node: Node, text: (node: Node) => string): Kind[] {
  switch (node.type) {
    case 'BinaryExpression':
    case 'LogicalExpression':
      return swapped(node, text);
    case 'UnaryExpression':
      return node.operator === '!' ? [{ words: '! left out', text: text(node.argument as Node) }] : [];
    case 'Literal':
      return otherValue(node);
    case 'ConditionalExpression': {
      const [test, yes, no] = [node.test, node.consequent, node.alternate].map((part) => text(part as Node));
      return [{ words: '?: the other way', text: `(${test}) ? (${no}) : (${yes})` }];
    }
    case 'ExpressionStatement':
      return isCall(node.expression as Node) ? [{ words: 'call left out', text: undefined }] : [];
    case 'ThrowStatement':
      return [{ words: 'throw left out', text: undefined }];
    case 'ContinueStatement':
    case 'BreakStatement':
      return [{ words: 'jump left out', text: undefined }];
    default:
      return [];
  }
}

function isCall(expression: Node): boolean {
  if (expression.type === 'AwaitExpression') return isCall(expression.argument as Node);
  return expression.type === 'CallExpression' && (expression.callee as Node).type !== 'Super';
}

function swapped({ operator, left, right }: Node, text: (node: Node) => string): Kind[] {
  const other = inPlaceOf[operator as string];
  const sides = [left as Node, right as Node];
  const isText = ({ type, value }: Node) => type === 'TemplateLiteral' || typeof value === 'string';
  if (other === undefined || (operator === '+' && sides.some(isText))) return [];
  return [{ words: `${operator} as ${other}`, text: `(${text(sides[0]!)}) ${other} (${text(sides[1]!)})` }];
}

function otherValue({ value, raw }: Node): Kind[] {
  if (typeof value === 'boolean') return [{ words: `${value} as ${!value}`, text: String(!value) }];
  if (typeof value !== 'number') return [];
  return [{ words: `${raw} as ${value + 1}`, text: String(value + 1) }];
}

/** A change with the number that it goes by. */
export interface Numbered extends Change {
  readonly number: number;
}

/** The source with all these changes in it, each done only where `treadleChange(number)` says so. */
export function switched(source: string, changes: readonly Numbered[]): string {
  const sorted = changes.toSorted((one, other) => one.start - other.start || other.end - one.end);
  return part(source, 0, source.length, sorted);
}

function part(source: string, start: number, end: number, inside: readonly Numbered[]): string {
  const [first] = inside;
  if (first === undefined) return source.slice(start, end);
  const isSame = (change: Change) => change.start === first.start && change.end === first.end;
  const isWithin = (change: Change) => !isSame(change) && change.end <= first.end;
  const inner = part(source, first.start, first.end, inside.filter(isWithin));
  const rest = inside.filter((change) => change.start >= first.end);
  const put = inside.filter(isSame).reduce(choice, inner);
  return source.slice(start, first.start) + put + part(source, first.end, end, rest);
}

function choice(otherwise: string, { number, text }: Numbered): string {
  if (text === undefined) return `{ if (!treadleChange(${number})) { ${otherwise} } }`;
  return `(treadleChange(${number}) ? (${text}) : (${otherwise}))`;
}
