import { readdirSync, readFileSync } from 'node:fs';
import { join, posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { projectRoot } from '../../../shared-protocol/project.js';

const core = join(projectRoot, 'firmware/core');
const files = readdirSync(core, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts') && !file.startsWith('generated/'))
  .map((file) => file.slice(0, -'.ts'.length));

/** What each file imports, by its path in the core; the compiler resolves these names without an ending. */
const imports = new Map(files.map((file) => [file, importsOf(file)]));

function importsOf(file: string): string[] {
  const text = readFileSync(join(core, `${file}.ts`), 'utf8');
  return [...text.matchAll(/^(?:import|export|\}).*? from '(\.[^']*)';/gm)].map(([, from]) =>
    posix.join(posix.dirname(file), from!),
  );
}

function circleFrom(file: string, way: readonly string[], done: Set<string>): readonly string[] | undefined {
  if (way.includes(file)) return [...way.slice(way.indexOf(file)), file];
  if (done.has(file)) return undefined;
  for (const next of imports.get(file) ?? []) {
    const circle = circleFrom(next, [...way, file], done);
    if (circle !== undefined) return circle;
  }
  done.add(file);
  return undefined;
}

/** Who may be imported by nobody but those named. */
const knownBy: readonly { readonly part: RegExp; readonly by: RegExp }[] = [
  { part: /^(index|planning)$/, by: /^index$/ },
  { part: /^(panel|sound)\/|^evening\/announce$/, by: /^(index$|panel\/|sound\/)/ },
  { part: /^evening\/(?!what-is-next$)/, by: /^(index$|evening\/|protocol\/)/ },
  { part: /^evening\/what-is-next$/, by: /^(evening|panel)\// },
  { part: /^jobs\//, by: /^(index$|planning$|jobs|evening|panel|sound)/ },
];
/** What the state may know: what it is made of. */
const STATE_KNOWS = /^(state|generated)\//;

describe("the core's imports", () => {
  it('go round in no circle', () => {
    const done = new Set<string>();
    const circles = files.flatMap((file) => circleFrom(file, [], done)?.join(' -> ') ?? []);
    expect(circles).toEqual([]);
  });

  it('run one way: index, panel and sound, evening, kinds of work, state', () => {
    expect(files.length).toBeGreaterThan(100);
    const wrong = [...imports].flatMap(([file, all]) =>
      all
        .filter(
          (to) =>
            knownBy.some(({ part, by }) => part.test(to) && !by.test(file)) ||
            (file.startsWith('state/') && !STATE_KNOWS.test(to)),
        )
        .map((to) => `${file} -> ${to}`),
    );
    expect(wrong).toEqual([]);
  });
});
