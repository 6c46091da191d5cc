import { copyFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { commandGroups } from '../../../host/cli/command-list.js';
import { programFor } from '../../../host/cli/program.js';
import { readBaths } from '../../../host/recipe/baths/index.js';
import { readRecipe } from '../../../host/recipe/index.js';
import { readStrip } from '../../../host/recipe/strip-file.js';
import { projectRoot, projectVersion as version } from '../../../shared-protocol/project.js';
import { BoardAtAPort } from './board-at-a-port.js';
import { treadleAlone } from './treadle.js';

const names = commandGroups.flatMap(({ commands }) => commands.map(({ name }) => name));

describe('help', () => {
  it('lists every command', async () => {
    const { code, out } = await treadleAlone(['--help']);
    expect(code).toBe(0);
    for (const name of names) expect(out).toMatch(new RegExp(`^  ${name} `, 'm'));
  });

  it.each(names)('of %s has an example of it', async (name) => {
    const program = await programFor([name, '--help']);
    let help = '';
    program.commands
      .find((command) => command.name() === name)!
      .configureOutput({ writeOut: (text) => (help += text) })
      .outputHelp();
    expect(help).toMatch(new RegExp(`^  \\$ treadle ${name}\\b`, 'm'));
  });

  it('tells the version that package.json has', async () => {
    expect(await treadleAlone(['--version'])).toEqual({ code: 0, out: `${version}\n`, err: '' });
  });

  it('comes with exit code 2 when nothing or nonsense was asked for', async () => {
    expect(await treadleAlone([])).toMatchObject({ code: 2, out: '' });
    const ran = await treadleAlone(['strp']);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain("treadle: unknown command 'strp'\n(Did you mean strip?)");
    // All of the program's help was shown for it, as if it had been the command's.
    expect(await treadleAlone(['strp', '--help'])).toEqual(ran);
  });
});

const SCREEN_ROWS = 4;

/** The screens drawn in a text, which stand side by side there, each as the golden evenings have it. */
function screensOf(text: string): string[] {
  const rows = [...text.matchAll(/^ {4}\|.*\|$/gm)].map(([row]) =>
    [...row.matchAll(/\|.{20}\|/g)].map(String),
  );
  return rows.flatMap((row, at) =>
    at % SCREEN_ROWS === 0
      ? row.map((_, column) =>
          rows
            .slice(at, at + SCREEN_ROWS)
            .map((each) => each[column])
            .join('\n'),
        )
      : [],
  );
}

describe('the README', () => {
  const readme = readFileSync(join(projectRoot, 'README.md'), 'utf8');

  it('shows a recipe that can be printed', () => {
    const indented = /^ {4}\{\n(?: {4}.*\n)+/m.exec(readme)![0];
    expect(readRecipe(indented).passes).toHaveLength(2);
  });

  it('shows baths and a strip that can be used', () => {
    const baths = /^ {4}\{ "baths": \[\n(?: {4}.*\n)+/m.exec(readme)![0];
    expect(readBaths(baths).map(({ label }) => label)).toEqual(['developer', 'fixer']);
    expect(readStrip(/`(\{"first".*?\})`/.exec(readme)![1]!).patches).toBe(7);
  });

  it('shows only screens that the board showed in an evening', () => {
    const evenings = ['golden-evening.txt', 'golden-dark-evening.txt']
      .map((name) => readFileSync(join(projectRoot, 'tests', 'firmware', 'core', 'evening', name), 'utf8'))
      .join('\n');
    const screens = screensOf(readme);
    expect(screens.length).toBeGreaterThan(3);
    for (const screen of screens) expect(evenings).toContain(screen);
  });

  it('links to files that are there', () => {
    const targets = [...readme.matchAll(/\]\(([^)#:]+)\)/g)].map(([, target]) => target!);
    expect(targets.length).toBeGreaterThan(3);
    for (const target of targets) expect(existsSync(join(projectRoot, target)), target).toBe(true);
  });

  it('shows commands that can be typed as they are', async () => {
    const desk = await BoardAtAPort.start();
    try {
      copyFileSync(join(projectRoot, 'host/evening/boathouse.json'), desk.file('boathouse.json'));
      writeFileSync(desk.file('wide.json'), /`(\{"first".*?\})`/.exec(readme)![1]!);
      const asTheyStand = /as they stand:\n\n((?: {4}.*\n)+)/.exec(readme)![1]!;
      const shown = [...asTheyStand.matchAll(/^ {4}treadle (.*?) *#/gm)].map(([, words]) =>
        words!.split(' '),
      );
      expect(shown.length).toBeGreaterThan(10);
      const environment = { TREADLE_PORT: desk.path, TREADLE_ARCHIVE: desk.archive };
      // Watching ends only when somebody ends it.
      for (const words of shown.filter(([name]) => name !== 'watch')) {
        const ran = await treadleAlone(words, '', environment, desk.folder);
        expect(ran, `treadle ${words.join(' ')}: ${ran.err}`).toMatchObject({ code: 0 });
      }
    } finally {
      desk.close();
    }
  });

  // What reads a scan wants a person's own strip.
  it('shows no option that its command has not', async () => {
    const shown = [...readme.matchAll(/^ {4}treadle ([a-z-]+) (.*?) *#/gm)];
    expect(shown.length).toBeGreaterThan(15);
    for (const [, name, words] of shown) {
      const program = await programFor([name!]);
      const command = program.commands.find((each) => each.name() === name)!;
      const called = (first: string) => command.commands.find((each) => each.name() === first);
      const sub = called(words!.split(' ')[0]!) ?? called('show') ?? command;
      const known = [...command.options, ...sub.options].map(({ long }) => long);
      expect(known, `treadle ${name} ${words}`).toEqual(
        expect.arrayContaining(words!.match(/(?<= )--[a-z-]+/g) ?? []),
      );
    }
  });

  it('names no command that there is not', () => {
    const named = [...readme.matchAll(/^ {4}treadle ([a-z-]+)|`treadle ([a-z-]+)/gm)].map(
      ([, shown, told]) => shown ?? told,
    );
    expect(named.length).toBeGreaterThan(10);
    expect(names).toEqual(expect.arrayContaining(named));
  });
});
