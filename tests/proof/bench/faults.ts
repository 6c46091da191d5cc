import { canBuildImages } from '../../firmware/board/rig/image.js';
import { emulatedBoards } from '../world/emulated-home.js';
import { faultKinds } from '../world/faults.js';
import { simulatedBoards } from '../world/simulated-home.js';
import { Tally } from '../world/tally.js';
import { runWorld } from '../world/world.js';
import { ArchiveShelf } from '../world/world-archive.js';
import type { BoardKind } from '../world/world-board.js';
import type { Section } from './page.js';

const SIMULATED_WORLDS = 500;
const EMULATED_WORLDS = 20;

async function tallyOf(worlds: number, kind: BoardKind): Promise<Tally> {
  const archives = new ArchiveShelf();
  const tally = new Tally();
  for (let seed = 1; seed <= worlds; seed++) tally.add(await runWorld(seed, archives, kind));
  await archives.close();
  return tally;
}

/** What befell the worlds of this run, by kind, and what came of it. */
export async function faultsSurvived(): Promise<Section> {
  const tallies = [
    await tallyOf(SIMULATED_WORLDS, simulatedBoards()),
    canBuildImages() ? await tallyOf(EMULATED_WORLDS, emulatedBoards()) : new Tally(),
  ];
  const row = (what: string, count: (tally: Tally) => number) => [what, ...tallies.map(count)];
  const accidents = Object.keys(tallies[0]!.accidents);
  return {
    title: 'Faults survived',
    about:
      'Evenings of laptop, wire, board and disk under one clock, by seed; the board simulated, and the image on the ' +
      'emulated chip. Goal: no world in which an entry is lost, doubled or changed, a recipe is neither old nor new, ' +
      'the lamp comes on without the pedal, or light is not accounted for. `npm test` and `npm run soak` run more.',
    columns: ['what', 'simulated board', 'emulated board'],
    rows: [
      row('worlds', ({ worlds }) => worlds),
      ...faultKinds.map((kind) => row(kind, ({ faults }) => faults[kind] ?? 0)),
      ...accidents.map((kind) => row(`bytes on the wire: ${kind}`, (tally) => tally.accidents[kind] ?? 0)),
      row('log entries archived, each once and as the board told it', ({ entries }) => entries),
      row('worlds with anything lost or wrong', ({ violations }) => violations.length),
    ],
  };
}
