// Writes the files of this folder with a built checkout of version 0.1.0: see README.md beside it.
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { gzipSync } from 'node:zlib';

const checkout = resolve(process.argv[2]);
const folder = import.meta.dirname;
const from = (path) => import(pathToFileURL(join(checkout, 'dist', path)).href);
const { Archive, openBoard, pullIntoArchive, SimulatedBoard } = await from('host/index.js');
const { holdPedal, pushKnob, tapPedal } = await from('host/sim/controls.js');
const { Timeline } = await from('host/sim/timeline.js');
const { inVirtualTime, timelineClock } = await from('host/sim/virtual-time.js');
const { lampTestPatches, settingsAway, rowOfBaths, recipes } = await import('./contents.mjs');

const timeline = new Timeline();
const board = new SimulatedBoard({ timeline, boardId: '5eed00f0f0a70001' });
const clock = timelineClock(timeline, Date.UTC(2027, 2, 5, 20, 0, 0));
const archiveFile = join(folder, 'archive.sqlite');
rmSync(archiveFile, { force: true });
const archive = await Archive.open(archiveFile, clock);

const seconds = (count) => board.advanceUs(count * 1_000_000);
const tap = () => tapPedal(board);
const hold = () => holdPedal(board, 900);
const keep = () => pushKnob(board, 900);

async function withLaptop(work) {
  const laptop = await inVirtualTime(timeline, openBoard(board.plug(), { clock, draw: () => 0 }));
  await inVirtualTime(timeline, work(laptop));
  await laptop.close();
  seconds(1);
}

function focusAndStopDown() {
  hold();
  seconds(5);
  tap();
  hold();
}

/** Every pass of what is chosen, to its end. */
function giveAll(most = 20, each = 70) {
  for (let taps = 0; taps < most && !board.panel[0].startsWith('Tap again'); taps++) {
    tap();
    seconds(each);
  }
}

/** What the knob at rest shows in the third row is turned to. */
function turnTo(row) {
  board.knobTurn(-20);
  for (let clicks = 0; clicks < 20 && !board.panel[2].startsWith(row); clicks++) board.knobTurn(1);
  if (!board.panel[2].startsWith(row)) throw new Error(`the knob finds no '${row}'`);
}

function restart() {
  board.cutPower();
  seconds(2);
  board.restorePower();
  seconds(2);
}

// The first evening, collected and forgotten.
await withLaptop(async (laptop) => {
  await laptop.setClock();
  for (const recipe of recipes) {
    archive.keepRecipe(recipe, laptop.id);
    await laptop.pushRecipe(recipe);
  }
  await laptop.setBaths(rowOfBaths);
  await laptop.setStrip({ firstMs: 2000, stepStops120: 120, stepMs: 0, patches: 6, cover: 'cumulative' });
});
focusAndStopDown();
turnTo('6 patches');
giveAll(9);
hold();
await withLaptop((laptop) => pullIntoArchive(archive, laptop));

// The second, in three boots, is still on the board.
restart();
await withLaptop((laptop) => laptop.setClock());
focusAndStopDown();
turnTo('6 patches');
giveAll(9);
board.knobTurn(1);
board.knobTurn(-20);
pushKnob(board); // all too dark: the lens was open
tap();
hold();
giveAll(9);
board.knobTurn(1);
board.knobTurn(-2);
pushKnob(board); // taken, and the lens is stopped down
tap();
turnTo('boathouse');
tap();
board.knobTurn(1);
hold();
keep();
seconds(2);
giveAll(12, 40);
hold();
turnTo('5 versions');
giveAll(12, 40);
hold();
turnTo('developer');
for (let sheets = 0; sheets < 2; sheets++) {
  tap();
  for (let bath = 0; bath < 5; bath++) {
    tap();
    seconds(1000);
  }
  hold();
}
turnTo('Safelight test');
tap();
tap();
seconds(3);
tap();
seconds(7 * 60 + 1);
tap();
seconds(3);
board.knobTurn(1);
board.knobTurn(2);
pushKnob(board);
turnTo('Lamp test');
giveAll(lampTestPatches + 2, 20);
board.knobTurn(1);
board.knobTurn(1);
pushKnob(board);
board.pedal(true);
seconds(20);
board.pedal(false);
seconds(1);
board.reset('watchdog');
seconds(2);
await withLaptop(async (laptop) => {
  for (const [name, value] of Object.entries(settingsAway)) await laptop.setSetting(name, value);
  await laptop.bathMixed(3);
  await laptop.choose('recipe', 'boathouse');
});
// The second pass is under way when the power fails.
tap();
tap();
seconds(40);
for (let taps = 0; taps < 8 && !board.panel[2].startsWith('sky'); taps++) {
  tap();
  seconds(30);
}
tap();
seconds(3);
restart();
await withLaptop((laptop) => laptop.setClock());
seconds(5);

writeFileSync(join(folder, 'flash.bin.gz'), gzipSync(board.flash.image(), { level: 9 }));
const held = {};
await withLaptop(async (laptop) => {
  held.status = await laptop.status();
  held.settings = await laptop.allSettings();
  held.baths = await laptop.allBaths();
  held.recipes = [];
  for (const { name } of await laptop.listRecipes()) held.recipes.push(await laptop.fetchRecipe(name));
  await pullIntoArchive(archive, laptop);
});
archive.addRemark({ name: 'boathouse', version: 2, rating: 4, words: 'sky still too light, à refaire' });
archive.addRemark({ name: 'skelder-mere', version: 7, rating: null, words: 'for the wall' });
const { oldestSeq, nextSeq } = held.status;
const records = archive.records();
const lineOf = ({ log, type, fields }) => [log, type, ...fields];
const onBoard = ({ seq }) => seq >= oldestSeq && seq < nextSeq;
const { status: _status, ...kept } = held;
write('held.json', { oldestSeq, nextSeq, ...kept, log: records.filter(onBoard).map(lineOf) });
write('archived.json', {
  board: board.id,
  schemaHash: records[0].schemaHash,
  recipes: archive.recipes(),
  remarks: archive.remarks(),
  records: records.map(lineOf),
});
archive.close();
writeFileSync(`${archiveFile}.gz`, gzipSync(readFileSync(archiveFile), { level: 9 }));
rmSync(archiveFile);
writeFileSync(
  join(folder, 'core.wasm.gz'),
  gzipSync(readFileSync(join(checkout, 'dist/core.wasm')), { level: 9 }),
);
board.close();

function write(name, content) {
  writeFileSync(join(folder, name), `${JSON.stringify(content, undefined, 2)}\n`);
}
