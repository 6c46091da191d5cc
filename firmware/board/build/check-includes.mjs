/**
 * Fails on a circle of includes among the board's files, on one against their direction, and on a register's name
 * outside its chip. Needs no compiler.
 *
 *   node firmware/board/build/check-includes.mjs [folder]
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { allowed, findCircle, processor } from './arrows.mjs';

const board = resolve(process.argv[2] ?? join(dirname(fileURLToPath(import.meta.url)), '..'));

const folders = readdirSync(board, { withFileTypes: true }).filter((entry) => entry.isDirectory());
const isChip = (name) => name === processor || existsSync(join(board, name, 'chip.mjs'));
const chips = folders.map(({ name }) => name).filter(isChip);

const files = folders
  .flatMap(({ name }) =>
    readdirSync(join(board, name), { recursive: true, encoding: 'utf8' }).map((path) => join(name, path)),
  )
  .filter((path) => /\.[ch]$/.test(path))
  .toSorted();

/** Which of the parts of `allowed` a file is in. */
function partOf(path) {
  const [folder, inner] = path.split('/');
  if (!chips.includes(folder)) return folder;
  return inner === 'port' ? 'port' : 'own';
}

/** A source and its header are one: what needs one of them needs both. */
const unitOf = (path) => path.replace(/\.[ch]$/, '');

/** The files that an include may mean: beside the file, from the board's folder, or in each chip. */
function meant(path, included) {
  const beside = relative(board, resolve(board, dirname(path), included));
  const candidates = [beside, included, ...chips.map((chip) => join(chip, included))];
  const found = candidates.find((one) => files.includes(one));
  if (found === undefined) return [];
  return chips.some((chip) => found === join(chip, included)) && found !== beside
    ? chips.map((chip) => join(chip, included)).filter((one) => files.includes(one))
    : [found];
}

const problems = [];
const needs = new Map();
const texts = new Map(files.map((path) => [path, readFileSync(join(board, path), 'utf8')]));

for (const [path, text] of texts) {
  const unit = unitOf(path);
  if (!needs.has(unit)) needs.set(unit, new Set());
  for (const [, included] of text.matchAll(/^\s*#\s*include\s+[<"]([^>"]+)[>"]/gm)) {
    for (const to of meant(path, included)) {
      if (unitOf(to) !== unit) needs.get(unit).add(unitOf(to));
      const [from, into] = [partOf(path), partOf(to)];
      const [folder, other] = [path, to].map((one) => one.split('/')[0]);
      const isOtherChip =
        from === 'own' && into === 'own' && folder !== other && ![folder, other].includes(processor);
      if (!allowed[from]?.includes(into) || isOtherChip)
        problems.push(`${path} includes ${to}, against the board's direction`);
    }
  }
}

const circle = findCircle(needs);
if (circle) problems.push(`the board's files include each other in a circle: ${circle.join(' > ')}`);

/** Registers are reached by name, and through the port's headers every file sees the names. */
const registers = files
  .filter((path) => path.endsWith('/registers.h'))
  .flatMap((path) => [...texts.get(path).matchAll(/^#define ([A-Z0-9_]+)/gm)].map(([, name]) => name));
const named = new RegExp(`\\b(?:${registers.join('|') || '(?!)'})\\b`);
for (const path of files.filter((one) => !['own', 'port'].includes(partOf(one)))) {
  const found = named.exec(texts.get(path))?.[0];
  if (found !== undefined) problems.push(`${path} names the register ${found}; only a chip's own folder may`);
}

for (const problem of problems) console.error(`firmware/board: ${problem}`);
process.exitCode = problems.length > 0 ? 1 : 0;
