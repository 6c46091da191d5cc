/**
 * Writes the types of what core.wasm imports and exports, for the host, from the core's own declarations: its effects
 * (firmware/core/board.ts) and its events and calculator (firmware/core/index.ts). With --check compares them.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { CommonFlags, NodeKind, Parser } from 'assemblyscript';
import { projectFolder } from './stamp.mjs';

const interfacePath = join(projectFolder, 'host/core/generated/core-interface.ts');

const parsed = new Map();

function statementsOf(path) {
  if (!parsed.has(path)) {
    const parser = new Parser();
    parser.parseFile(readFileSync(join(projectFolder, path), 'utf8'), path, true);
    const wrong = parser.diagnostics.at(0);
    if (wrong !== undefined) throw new Error(`${path}: ${wrong.message}`);
    parsed.set(path, parser.sources[0].statements);
  }
  return parsed.get(path);
}

const isExported = (node) => (node.flags & CommonFlags.Export) !== 0;

/** The functions that a file exports, its own and those that it hands on, by name. */
function exportedFunctions(path) {
  const found = new Map();
  for (const node of statementsOf(path)) {
    if (node.kind === NodeKind.FunctionDeclaration && isExported(node)) found.set(node.name.text, node);
    else if (node.kind === NodeKind.Export)
      for (const [name, it] of handedOn(path, node)) found.set(name, it);
  }
  return found;
}

function handedOn(path, { path: from, members }) {
  const file = from === null ? path : `${join(dirname(path), from.value)}.ts`;
  if (members === null) return exportedFunctions(file);
  return members.map(({ localName, exportedName }) => [
    exportedName.text,
    from === null ? importedFunction(path, localName.text) : exportedFunctions(file).get(localName.text),
  ]);
}

function importedFunction(path, name) {
  for (const node of statementsOf(path)) {
    if (node.kind !== NodeKind.Import) continue;
    const one = node.declarations?.find((declared) => declared.name.text === name);
    if (one === undefined) continue;
    return exportedFunctions(`${join(dirname(path), node.path.value)}.ts`).get(one.foreignName.text);
  }
  throw new Error(`${path}: ${name} is exported and comes from nowhere`);
}

/** How JavaScript is handed a number of the core; what of 32 bits has no sign there has one here. */
const numberTypes = { void: 'void', i64: 'bigint', u64: 'bigint' };

/** A flag arrives as 0 or 1 and is taken as either, or as a boolean. */
function typeFor(node, { isTaken }) {
  const name = node.name.identifier.text;
  if (name === 'bool' && isTaken) return 'boolean | number';
  return numberTypes[name] ?? 'number';
}

/** `intoCore`: JavaScript hands over the parameters; otherwise the core does, and JavaScript answers. */
function writeFunction(name, { signature }, intoCore) {
  const parameters = signature.parameters.map(
    ({ name: given, type }) => `${given.text}: ${typeFor(type, { isTaken: intoCore })}`,
  );
  const answer = typeFor(signature.returnType, { isTaken: !intoCore });
  return `  ${name}(${parameters.join(', ')}): ${answer};`;
}

function writeInterface(name, words, path, intoCore, first = []) {
  const functions = [...exportedFunctions(path)].map(([called, node]) =>
    writeFunction(called, node, intoCore),
  );
  return [`/** ${words} */`, `export interface ${name} {`, ...first, ...functions, '}', ''];
}

const text = [
  '// Written by firmware/build/write-core-interface.mjs from firmware/core; not for editing.',
  '',
  "import type { CoreMemory } from '../webassembly.js';",
  '',
  ...writeInterface(
    'CoreEffects',
    'What the core asks of its board; each is explained in firmware/core/board.ts.',
    'firmware/core/board.ts',
    false,
  ),
  ...writeInterface(
    'Core',
    'Its events (firmware/core/index.ts), its calculator (firmware/core/planning.ts) and its memory.',
    'firmware/core/index.ts',
    true,
    ['  readonly memory: CoreMemory;'],
  ),
].join('\n');

function written() {
  try {
    return readFileSync(interfacePath, 'utf8');
  } catch {
    return '';
  }
}

if (process.argv.includes('--check')) {
  if (written() !== text) {
    console.error("host/core/generated is not what firmware/core declares: run 'npm run build'");
    process.exitCode = 1;
  }
} else if (written() !== text) {
  mkdirSync(dirname(interfacePath), { recursive: true });
  writeFileSync(interfacePath, text);
}
