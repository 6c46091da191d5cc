/**
 * Builds the board's image around a core: wasm2c, the cross compiler, the linker, and a report of what it takes.
 *
 *   node firmware/board/build/image.mjs [--chip rp2040] [--core dist/core.wasm] [--out FOLDER] [--baud 115200] [--vbus-pin N] [--quiet]
 *
 * Writes treadle.elf, treadle.bin, treadle.uf2 (treadle.hex where the chip has no drive) and report.json. Exit code 1 with what to do if a tool is missing,
 * if the image does not fit, if code that runs while the flash is busy reaches into the flash, or if the board's files
 * need each other in a circle or against their direction.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { processor } from './arrows.mjs';
import { measure, printReport } from './report.mjs';
import { missingTools, run } from './tools.mjs';
import { writeUf2 } from './uf2.mjs';

const boardFolder = resolve(dirname(fileURLToPath(import.meta.url)), '..');
const projectFolder = resolve(boardFolder, '../..');
const ownCore = join(projectFolder, 'dist/core.wasm');

const language = ['-std=c11', '-ffreestanding', '-fno-common', '-ffunction-sections', '-fdata-sections'];
const warnings = ['-Wall', '-Wextra', '-Wundef', '-Werror'];
/** A loop must stay a loop where memcpy would be in the flash; tables of jumps would be too. */
const ramSafe = ['-fno-tree-loop-distribute-patterns', '-fno-jump-tables'];
/** Names and paths are no part of the image: the same sources give the same bytes anywhere. */
const reproducible = [`-ffile-prefix-map=${projectFolder}=.`];

/** What is compiled, apart from the core: every C file of these folders, of the chip's own and of its processor's. */
const sourceFolders = ['glue', 'devices', 'runtime'];

function options() {
  const { values } = parseArgs({
    options: {
      chip: { type: 'string', default: 'rp2040' },
      core: { type: 'string', default: ownCore },
      out: { type: 'string' },
      baud: { type: 'string', default: '115200' },
      'vbus-pin': { type: 'string' },
      quiet: { type: 'boolean', default: false },
    },
  });
  const folder = values.chip === 'rp2040' ? 'image' : `image-${values.chip}`;
  return { out: join(projectFolder, 'dist', folder), ...values };
}

/** What is particular to a chip, from the `chip.mjs` in its folder. */
async function readChip(name) {
  const facts = join(boardFolder, name, 'chip.mjs');
  if (!existsSync(facts)) throw new Error(`there is no chip ${name}: ${facts} is missing`);
  const storage = readFileSync(join(boardFolder, name, 'port/storage.h'), 'utf8');
  const storageBytes = Number(/^#define STORAGE_BYTES (\w+)$/m.exec(storage)[1]);
  return { name, storageBytes, ...(await import(pathToFileURL(facts).href)).default };
}

/** What `npm run build` made, by `path` in dist/shared-protocol. */
const built = (path) => import(pathToFileURL(join(projectFolder, 'dist/shared-protocol', path)).href);

/** A core that lays out as much storage as the board has, in the steps of `npm run build`: ours is compiled anew if there is less. */
async function fitCore(core, chip, folder) {
  const { limits } = await built('index.js');
  if (chip.storageBytes >= limits.storageBytes || core !== ownCore) return core;
  const wasm = join(folder, 'core.wasm');
  const asc = [
    'node_modules/assemblyscript/bin/asc.js',
    'firmware/core/index.ts',
    '--target',
    'release',
    '-o',
    wasm,
  ];
  const how = [
    '--transform',
    './firmware/build/packed-text.mjs',
    '--use',
    `BOARD_STORAGE_BYTES=${chip.storageBytes}`,
  ];
  run(process.execPath, [...asc, ...how], projectFolder);
  run(process.execPath, ['firmware/build/shrink-core.mjs', wasm], projectFolder);
  return wasm;
}

function compile(chip, source, object, more) {
  const options = [...chip.machine, ...language, ...reproducible, ...more, '-fstack-usage'];
  run(chip.tool('gcc'), [...options, '-c', source, '-o', object]);
  return object;
}

/** The core in C; its functions are named after `core`, whatever the file is called. */
function translateCore(chip, wasm, folder) {
  run('wasm2c', [wasm, '--module-name', 'core', '-o', join(folder, 'core.c')]);
  const including = ['-I', folder, '-I', join(boardFolder, 'runtime'), '-DNDEBUG', '-w', '-Os'];
  return compile(chip, join(folder, 'core.c'), join(folder, 'core.o'), including);
}

/** Each object is named after its source's path, so that the report can tell who needs whom. */
async function compileBoard(chip, folder, baud, vbusPin) {
  const own = [chip.name, processor];
  const searched = ['.', ...own, 'runtime'].map((part) => join(boardFolder, part));
  const { limits } = await built('index.js');
  const layout = Math.min(chip.storageBytes, limits.storageBytes);
  const storage = layout < limits.storageBytes ? [`-DTREADLE_STORAGE_BYTES=${layout}`] : [];
  const settings = [
    `-DSERIAL_BAUD=${baud}u`,
    ...storage,
    ...(vbusPin === undefined ? [] : [`-DPIN_VBUS=${vbusPin}`]),
  ];
  const including = [...[...searched, folder].flatMap((path) => ['-I', path]), ...settings];
  const sources = [...sourceFolders.map((part) => sourcesOf([part], chip)), sourcesOf(own, chip)].flat();
  return sources.map(({ part, name }) => {
    const object = join(folder, `${part}.${name.slice(0, -'.c'.length)}.o`);
    const options = [...including, ...warnings, ...ramSafe, '-O2'];
    return compile(chip, join(boardFolder, part, name), object, options);
  });
}

/** The C files of folders, by name: in which of a chip's and its processor's one lies moves nothing in the image. */
function sourcesOf(parts, chip) {
  return parts
    .flatMap((part) => readdirSync(join(boardFolder, part)).map((name) => ({ part, name })))
    .filter(({ name }) => name.endsWith('.c') && name !== chip.bootBlock)
    .toSorted((one, other) => (one.name < other.name ? -1 : 1));
}

function link(chip, objects, folder) {
  const elf = join(folder, 'treadle.elf');
  run(chip.tool('gcc'), [
    ...chip.machine,
    '-nostartfiles',
    '--specs=nano.specs',
    '-T',
    join(boardFolder, chip.name, 'image.ld'),
    '-Wl,--gc-sections',
    '-Wl,--fatal-warnings',
    '-Wl,--no-warn-rwx-segments',
    ...objects,
    '-lm',
    '-lc',
    '-lgcc',
    '-o',
    elf,
  ]);
  return elf;
}

/** Version and schema are those that the core was built with: the same build wrote both. */
async function sayWhatItIs(chip, image) {
  const { markImage } = await built('image-mark.js');
  const { protocolVersion, schemaHash, version } = await built('index.js');
  markImage(image, { chip: chip.name, version, protocol: protocolVersion, schemaHash });
}

/** The file that people put on a board; says what it is for. */
function writeForFlashing(chip, image, out) {
  if (chip.uf2Family === undefined) {
    const hex = join(out, 'treadle.hex');
    const at = ['--change-addresses', String(chip.flashBase)];
    run(chip.tool('objcopy'), ['-I', 'binary', '-O', 'ihex', ...at, join(out, 'treadle.bin'), hex]);
    return `for the chip's debug port: ${hex}`;
  }
  const uf2 = join(out, 'treadle.uf2');
  writeFileSync(uf2, writeUf2(image, chip.flashBase, chip.uf2Family));
  return `for the board's drive: ${uf2}`;
}

async function build(chip, { core, out, baud, 'vbus-pin': vbusPin, quiet }) {
  if (!existsSync(core)) throw new Error(`${core} is not there; run "npm run build" first`);
  const objects = join(out, 'objects');
  const reportPath = join(out, 'report.json');
  const last = existsSync(reportPath) ? JSON.parse(readFileSync(reportPath, 'utf8')) : undefined;
  rmSync(objects, { recursive: true, force: true });
  mkdirSync(objects, { recursive: true });

  const coreObject = translateCore(chip, await fitCore(core, chip, objects), objects);
  const parts = [...(await compileBoard(chip, objects, baud, vbusPin)), coreObject];
  const elf = link(chip, [...chip.bootObjects(objects), ...parts], objects);
  const bin = join(objects, 'treadle.bin');
  run(chip.tool('objcopy'), ['-O', 'binary', elf, bin]);

  const image = readFileSync(bin);
  await sayWhatItIs(chip, image);
  writeFileSync(join(out, 'treadle.elf'), readFileSync(elf));
  writeFileSync(join(out, 'treadle.bin'), image);
  const forFlashing = writeForFlashing(chip, image, out);
  const report = measure(chip, elf, objects);
  writeFileSync(reportPath, `${JSON.stringify(report, null, 2)}\n`);
  if (!quiet) printReport(chip, report, last);
  if (report.problems.length > 0) throw new Error(report.problems.join('\n'));
  if (!quiet) console.log(`  ${forFlashing}`);
}

try {
  const given = options();
  const chip = await readChip(given.chip);
  const missing = missingTools([chip.tool('gcc'), chip.tool('objdump'), 'wasm2c']);
  if (missing.length > 0) {
    throw new Error(
      `The board's image needs ${missing.join(', ')}. On Debian or Ubuntu: sudo apt-get install ${chip.packages} wabt`,
    );
  }
  await build(chip, given);
} catch (error) {
  console.error(error.message);
  process.exitCode = 1;
}
