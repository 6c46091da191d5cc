/** Reads JSON as RFC 8259 has it, and keeps where everything stands, so that a fault can be pointed at. */
import {
  createScanner,
  findNodeAtLocation,
  getNodeValue,
  type Node,
  type ParseError,
  parseTree,
  printParseErrorCode,
} from 'jsonc-parser';
import { type PathPart, type PlacedProblem, pathText, type RecipeProblem } from './problem.js';

/** What a file that people write may have at most. */
export const mostFileBytes = 256 * 1024;
/** A recipe nests six deep. */
const DEEPEST = 32;

export interface JsonText {
  readonly value: unknown;
  /** Adds the line and column of the thing at `path`, or of the nearest thing around it. */
  locate(path: readonly PathPart[], message: string): PlacedProblem;
}

/** The text's value, or what is wrong with it as JSON: syntax, names given twice, sheer size. */
export function readJson(bytes: Uint8Array | string): JsonText | readonly RecipeProblem[] {
  const text = typeof bytes === 'string' ? bytes : decode(bytes);
  if (text === undefined) return [{ path: '', message: 'the file is not UTF-8 text: save it as UTF-8' }];
  // Editors on some systems put a byte-order mark first; RFC 8259 section 8.1 lets a reader ignore it.
  const json = text.replace(/^\uFEFF/, '');
  if (json.length > mostFileBytes)
    return [{ path: '', message: `the file is larger than ${mostFileBytes} bytes` }];
  const place = places(json);
  const tooDeep = firstTooDeep(json);
  if (tooDeep !== undefined)
    return [{ path: '', message: 'brackets are nested too deep', ...place(tooDeep) }];
  const errors: ParseError[] = [];
  const tree = parseTree(json, errors, { disallowComments: true, allowEmptyContent: false });
  // What follows the first fault of syntax is mostly its echo.
  if (errors[0] !== undefined) return [syntaxProblem(errors[0], json, place)];
  const twice = namesTwice(tree!).map((node) => ({ ...atNode(tree!, node), ...place(node.offset) }));
  return twice.length > 0 ? twice : located(tree!, place);
}

type Places = (offset: number) => { readonly line: number; readonly column: number };

function decode(bytes: Uint8Array): string | undefined {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

function places(text: string): Places {
  return (offset) => {
    const before = text.slice(0, offset).split(/\r\n|\r|\n/);
    return { line: before.length, column: before.at(-1)!.length + 1 };
  };
}

/** Where brackets are nested so deep that a reader that calls itself could run out of stack. */
function firstTooDeep(text: string): number | undefined {
  const scanner = createScanner(text, true);
  let depth = 0;
  for (scanner.scan(); scanner.getTokenOffset() < text.length; scanner.scan()) {
    const first = text[scanner.getTokenOffset()]!;
    if ('{['.includes(first)) depth += 1;
    if ('}]'.includes(first)) depth -= 1;
    if (depth > DEEPEST) return scanner.getTokenOffset();
  }
  return undefined;
}

const syntaxWords: Record<string, string> = {
  CommaExpected: 'a comma is missing before this',
  ColonExpected: 'a colon is missing before this',
  PropertyNameExpected: 'a field name in double quotes is missing here, or a comma is too many',
  ValueExpected: 'a value is missing here, or a comma is too many',
  CloseBraceExpected: 'a closing } is missing',
  CloseBracketExpected: 'a closing ] is missing',
  EndOfFileExpected: 'something follows after the end of it',
  InvalidCommentToken: 'JSON has no comments; use the field notes',
  UnexpectedEndOfString: 'a closing quote is missing',
  UnexpectedEndOfNumber: 'a number is not finished',
  InvalidNumberFormat: 'this is not a number as JSON writes them',
  InvalidUnicode: 'a \\u needs four hexadecimal digits',
  InvalidEscapeCharacter: 'a backslash in a text is written \\\\',
  InvalidCharacter: 'a text must not contain a line break or a tab; write \\n or \\t',
  InvalidSymbol: 'texts stand in double quotes',
};

function syntaxProblem(error: ParseError, text: string, place: Places): RecipeProblem {
  const words = syntaxWords[printParseErrorCode(error.error)] ?? 'this is not JSON';
  const found = text.slice(error.offset, error.offset + Math.min(error.length, 20));
  return { path: '', message: found === '' ? words : `${words}: ${found}`, ...place(error.offset) };
}

/** Property nodes whose name their object has already had; most readers would silently take the last. */
function namesTwice(node: Node): Node[] {
  const children = node.children ?? [];
  const seen = new Set<string>();
  const here =
    node.type === 'object' ? children.filter((child) => !isNew(seen, child.children![0]!.value)) : [];
  return [...here, ...children.flatMap(namesTwice)];
}

function isNew(seen: Set<string>, name: string): boolean {
  if (seen.has(name)) return false;
  seen.add(name);
  return true;
}

function atNode(tree: Node, property: Node): { path: string; message: string } {
  const name: string = property.children![0]!.value;
  return { path: pathText([...pathOf(tree, property.parent!), name]), message: 'this field is given twice' };
}

function pathOf(tree: Node, node: Node): PathPart[] {
  const parent = node.parent;
  if (node === tree || parent === undefined) return [];
  if (parent.type === 'property') return [...pathOf(tree, parent.parent!), parent.children![0]!.value];
  return [...pathOf(tree, parent), parent.children!.indexOf(node)];
}

function located(tree: Node, place: Places): JsonText {
  return {
    value: getNodeValue(tree),
    locate: (path, message) => ({ path: pathText(path), message, ...place(nearest(tree, path).offset) }),
  };
}

function nearest(tree: Node, path: readonly PathPart[]): Node {
  for (let length = path.length; length > 0; length -= 1) {
    const node = findNodeAtLocation(tree, path.slice(0, length));
    if (node !== undefined) return node;
  }
  return tree;
}
