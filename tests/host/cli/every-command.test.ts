import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { commandGroups } from '../../../host/cli/command-list.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { BoardAtAPort } from './board-at-a-port.js';
import { type Ran, treadle, treadleAlone } from './treadle.js';

const recipe = join(projectRoot, 'host/evening/boathouse.json');
const folder = mkdtempSync(join(tmpdir(), 'treadle-test-'));
const inFolder = (name: string) => join(folder, name);
beforeAll(() => writeFileSync(inFolder('bad.json'), '{ "name": "Sky" }'));
afterAll(() => rmSync(folder, { recursive: true }));

const archive = ['--archive', inFolder('none.sqlite')];

/** Good work and refusals, with and without input; none leaves anything, so that it can be done twice. */
const byThemselves = [
  ['new', inFolder('new.json')],
  ['change', recipe, '--set', 'base=14s', '-o', 'none/x.json'],
  ['strip', '--first', '5s', '--step', '1/2', '--patches', '5'],
  ['check', inFolder('bad.json')],
  ['check', '-'],
  ['timeline', recipe],
  ['schema', 'recipe'],
  ['rescale', recipe, '--magnification', '8', '--json'],
  ['contrast', '--grades', recipe],
  ['filter', recipe, '--to', '4'],
  ['split'],
  ['dry-down', '--sheet', '10s', '--filter', '2'],
  ['read', inFolder('none.png')],
  ['map', recipe, '-o', 'none/x.svg'],
  ['paper', 'show', ...archive],
  ['preview', recipe, '-o', 'none/x.png'],
  ['evening', '--pictures', recipe],
  ['flash', '--image', inFolder('none.uf2')],
  ['nights', ...archive],
  ['again', '1', ...archive],
  ['compare', '1', '2', ...archive],
  ['remark', '1', '--rating', '3', ...archive],
  ['desk', '--port', ''],
  ['watch', '--port', ''],
  ['checkup', '--port', ''],
];
const withABoard = [
  ['info'],
  ['diagnose', '--json'],
  ['settings'],
  ['baths'],
  ['send', inFolder('bad.json')],
  ['recipes'],
  ['save', 'none'],
  ['remove', 'none'],
  ['collect', '--archive', folder],
];
const names = commandGroups.flatMap(({ commands }) => commands.map(({ name }) => name));
/** Of every command that is not among them at least a refusal. */
const others = names
  .filter((name) => ![...byThemselves, ...withABoard].some(([listed]) => listed === name))
  .map((name) => [name, '--nonsense']);

/** The board's time goes on between the two, and its log with it. */
const withoutFigures = ({ code, out, err }: Ran) => [code, out.replace(/\d+/g, '#'), err];

/** Most tests of commands run them in their own process; what they show holds for the program as far as this does. */
describe('in a process of its own and in that of a test', () => {
  let desk: BoardAtAPort;
  beforeAll(async () => {
    desk = await BoardAtAPort.start();
  });
  afterAll(() => desk.close());

  it.each([...byThemselves, ...others].map((words) => [words]))(
    'the same comes of treadle %j',
    async (words) => {
      const input = '{ "name": "sky" ';
      expect(await treadle(words, input)).toEqual(await treadleAlone(words, input));
    },
  );

  it.each(withABoard.map((words) => [words]))('the same comes of treadle %j with a board', async (words) => {
    const atThePort = [...words, '--port', desk.path];
    const alone = await treadleAlone(atThePort);
    expect(withoutFigures(await treadle(atThePort))).toEqual(withoutFigures(alone));
  });
});
