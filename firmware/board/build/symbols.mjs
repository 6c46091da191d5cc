/** Who needs whom among the image's objects, by the symbols that they use and define. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { allowed, findCircle, processor } from './arrows.mjs';
import { run } from './tools.mjs';

/** The one symbol that a chip takes from above: where the program begins. */
const fromAbove = 'main';

/** `{ defined, used }` of each of the board's objects, by `folder.file`. */
function readObjects(chip, folder) {
  const objects = new Map();
  for (const file of readdirSync(folder).filter((name) => name === 'core.o' || /^\w+\.\w+\.o$/.test(name))) {
    const defined = new Set();
    const used = new Set();
    for (const line of run(chip.tool('nm'), [join(folder, file)]).split('\n')) {
      const [, kind, name] = /^\s*(?:[0-9a-f]+)? +([A-Za-z]) (\S+)$/.exec(line) ?? [];
      if (kind === 'U') used.add(name);
      else if (kind !== undefined && kind === kind.toUpperCase()) defined.add(name);
    }
    objects.set(file.slice(0, -'.o'.length), { defined, used });
  }
  return objects;
}

function partOf(object, chip) {
  const folder = object.split('.')[0];
  return folder === chip.name || folder === processor ? 'own' : folder;
}

/** By symbols the files of chip/ are the chip's own. */
function mayNeed(from, to) {
  const parts = allowed[from].includes('chip') ? [...allowed[from], 'own'] : allowed[from];
  return parts.includes(to);
}

/** What breaks the board's directions, in words. */
export function findSymbolProblems(chip, folder) {
  const objects = readObjects(chip, folder);
  const homes = new Map(
    [...objects].flatMap(([object, { defined }]) => [...defined].map((name) => [name, object])),
  );
  const needs = new Map([...objects.keys()].map((object) => [object, new Set()]));
  const problems = [];
  for (const [object, { used }] of objects) {
    for (const name of [...used].filter((one) => homes.has(one))) {
      const home = homes.get(name);
      needs.get(object).add(home);
      if (name === fromAbove && partOf(object, chip) === 'own') continue;
      if (!mayNeed(partOf(object, chip), partOf(home, chip)))
        problems.push(`${object} uses ${name} of ${home}, against the board's direction.`);
    }
  }
  const circle = findCircle(needs);
  if (circle) problems.push(`The board's objects need each other in a circle: ${circle.join(' > ')}.`);
  return problems;
}
