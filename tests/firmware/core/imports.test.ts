import { readdirSync, readFileSync } from 'node:fs';
import { join, posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { projectRoot } from '../../../shared-protocol/project.js';

const core = join(projectRoot, 'firmware/core');
const files = readdirSync(core, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts') && !file.startsWith('generated/'))
  .map((file) => file.slice(0, -'.ts'.length));

/** What each file imports, by its path in the core; the compiler resolves these names without an ending. */
type Imports = ReadonlyMap<string, readonly string[]>;
const imports: Imports = new Map(files.map((file) => [file, importsOf(file)]));

function importsOf(file: string): string[] {
  const text = readFileSync(join(core, `${file}.ts`), 'utf8');
  return [...text.matchAll(/^(?:import|export|\}).*? from '(\.[^']*)';/gm)].map(([, from]) =>
    posix.join(posix.dirname(file), from!),
  );
}

function circlesIn(graph: Imports): string[] {
  const done = new Set<string>();
  return [...graph.keys()].flatMap((file) => circleFrom(file, [], done, graph)?.join(' -> ') ?? []);
}

function circleFrom(
  file: string,
  way: readonly string[],
  done: Set<string>,
  graph: Imports,
): readonly string[] | undefined {
  if (way.includes(file)) return [...way.slice(way.indexOf(file)), file];
  if (done.has(file)) return undefined;
  for (const next of graph.get(file) ?? []) {
    const circle = circleFrom(next, [...way, file], done, graph);
    if (circle !== undefined) return circle;
  }
  done.add(file);
  return undefined;
}

/** Who may be imported by nobody but those named. */
const knownBy: readonly { readonly part: RegExp; readonly by: RegExp }[] = [
  { part: /^(index|planning)$/, by: /^index$/ },
  { part: /^(panel|sound)\/|^evening\/announce$/, by: /^(index$|panel\/|sound\/)/ },
  { part: /^evening\/(?!what-is-(next|asked)$)/, by: /^(index$|evening\/|protocol\/)/ },
  { part: /^evening\/what-is-(next|asked)$/, by: /^(evening|panel)\// },
  { part: /^jobs\//, by: /^(index$|planning$|jobs|evening|panel|sound)/ },
];
/** What the state may know: what it is made of. */
const STATE_KNOWS = /^(state|generated)\//;

function wrongArrowsIn(graph: Imports): string[] {
  return [...graph].flatMap(([file, all]) =>
    all.filter((to) => isWrong(file, to)).map((to) => `${file} -> ${to}`),
  );
}

function isWrong(file: string, to: string): boolean {
  if (file.startsWith('state/') && !STATE_KNOWS.test(to)) return true;
  return knownBy.some(({ part, by }) => part.test(to) && !by.test(file));
}

/** The core's imports and one more. */
const withArrow = (from: string, to: string): Imports =>
  new Map(imports).set(from, [...imports.get(from)!, to]);

describe("the core's imports", () => {
  it('go round in no circle', () => {
    expect(files.length).toBeGreaterThan(100);
    expect(circlesIn(imports)).toEqual([]);
  });

  it('run one way: index, panel and sound, evening, kinds of work, state', () => {
    expect(wrongArrowsIn(imports)).toEqual([]);
  });

  it('would be found out by one arrow back: the state machine that draws its own panel', () => {
    const graph = withArrow('evening/exposing', 'panel/panel');
    expect(wrongArrowsIn(graph)).toEqual(['evening/exposing -> panel/panel']);
  });

  it('would be found out by a circle of two files', () => {
    expect(imports.get('evening/foot')).toContain('evening/exposing');
    const circles = circlesIn(withArrow('evening/exposing', 'evening/foot'));
    expect(circles.join('\n')).toMatch(
      /evening\/foot -> evening\/exposing|evening\/exposing -> evening\/foot/,
    );
  });
});
