/**
 * The fingerprint of the evening's state, written from the sources of that state: every field of every structure in
 * firmware/core/state counts, as exactly as the mark beside it says.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { projectRoot } from '../../../shared-protocol/project.js';

const STATE_FOLDER = 'firmware/core/state';
/** Beside explored.as.ts, which imports it. */
export const fingerprintFile = 'tests/proof/exploration/generated/state-fingerprint.as.ts';

const INSTANCE = /^export const (\w+) = changetype<(\w+)>\(STATE/gm;
const FIELD = /^ {2}(\w+): (\w+);(?: \/\/ (.*))?$/gm;
/** Times are told apart to this mark, `wholly` where there is none. */
const MARK =
  /^explored: (not|up to (\d+)|in steps of (\d+)|whether it is past|exactly)(, while a step is under way)?/;

interface Field {
  readonly name: string;
  readonly comment: string;
}

/** The program's text. */
export function stateFingerprint(): string {
  const root = source('state');
  const instances = [...root.matchAll(INSTANCE)].filter(([, , type]) => type !== 'StripSet');
  const adds = instances.flatMap(([, instance, type]) =>
    fieldsOf(type!).flatMap((field) => addOf(`${instance}.${field.name}`, field)),
  );
  return [
    "import { RunState } from '../../../../firmware/core/generated/constants';",
    "import { add } from '../fingerprint-hash.as';",
    `import { ${instances.map(([, instance]) => instance).join(', ')} } from '../../../../firmware/core/state/state';`,
    'export function addState(nowUs: i64): void {',
    ...adds.map((line) => `  ${line}`),
    '}',
    '',
  ].join('\n');
}

export function writeStateFingerprint(root = projectRoot): void {
  const file = join(root, fingerprintFile);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, stateFingerprint());
}

function source(name: string): string {
  return readFileSync(join(projectRoot, STATE_FOLDER, `${name}.ts`), 'utf8');
}

/** The class stands in a file of its own name. */
function fieldsOf(type: string): Field[] {
  const text = source(type.toLowerCase());
  const body = text.slice(text.indexOf(`export class ${type} {`));
  const fields = [...body.matchAll(FIELD)].map(([, name, , comment]) => ({
    name: name!,
    comment: comment ?? '',
  }));
  if (fields.length === 0) throw new Error(`${type} has no fields that can be read`);
  return fields;
}

function addOf(field: string, { comment }: Field): string[] {
  if (!comment.includes('explored')) return [`add(i64(${field}));`];
  const mark = MARK.exec(comment);
  if (mark === null) throw new Error(`'${comment}' beside ${field} is no mark that is known`);
  const [, how, most, grain, inStep] = mark;
  const value = wordOf(field, how!, most, grain);
  if (value === undefined) return [];
  return [inStep === undefined ? `add(${value});` : `if (situation.isStep()) add(${value});`];
}

function wordOf(field: string, how: string, most?: string, grain?: string): string | undefined {
  if (how === 'not') return undefined;
  if (how === 'whether it is past') return `i64(nowUs < ${field})`;
  if (most !== undefined) return `i64(min(${field}, ${most}))`;
  if (grain !== undefined) return `i64(${field} / ${grain})`;
  return `i64(${field})`;
}
