/**
 * Builds the board's image around a core: wasm2c, the cross compiler, the linker, and a report of what it takes.
 *
 *   node firmware/board/build/image.mjs [--core dist/core.wasm] [--out dist/image] [--baud 115200] [--quiet]
 *
 * Writes treadle.elf, treadle.bin, treadle.uf2 and report.json. Exit code 1 with what to do if a tool is missing,
 * if the image does not fit, or if code that runs while the flash is busy reaches into the flash.
 */
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { sealBootBlock } from './boot-block.mjs';
import { measure, printReport } from './report.mjs';
import { missingTools, run } from './tools.mjs';
import { writeUf2 } from './uf2.mjs';

const boardFolder = resolve(dirname(fileURLToPath(import.meta.url)), '..');
const projectFolder = resolve(boardFolder, '../..');

/** Where the image starts in the chip's memory (RP2040 datasheet section 2.2). */
const flashBase = 0x1000_0000;

const machine = ['-mcpu=cortex-m0plus', '-mthumb'];
const language = ['-std=c11', '-ffreestanding', '-fno-common', '-ffunction-sections', '-fdata-sections'];
const warnings = ['-Wall', '-Wextra', '-Wundef', '-Werror'];
/** A loop must stay a loop where memcpy would be in the flash; tables of jumps would be too. */
const ramSafe = ['-fno-tree-loop-distribute-patterns', '-fno-jump-tables'];
/** Names and paths are no part of the image: the same sources give the same bytes anywhere. */
const reproducible = [`-ffile-prefix-map=${projectFolder}=.`];

const sources = [
  'start',
  'clocks',
  'pins',
  'lamp',
  'contacts',
  'serial',
  'pwm',
  'i2c',
  'display',
  'flash',
  'sleep',
  'watchdog',
  'fault',
  'events',
  'effects',
  'runtime/runtime',
];

function options() {
  const { values } = parseArgs({
    options: {
      core: { type: 'string', default: join(projectFolder, 'dist/core.wasm') },
      out: { type: 'string', default: join(projectFolder, 'dist/image') },
      baud: { type: 'string', default: '115200' },
      quiet: { type: 'boolean', default: false },
    },
  });
  return values;
}

function compile(source, object, more) {
  run('arm-none-eabi-gcc', [
    ...machine,
    ...language,
    ...reproducible,
    ...more,
    '-fstack-usage',
    '-c',
    source,
    '-o',
    object,
  ]);
  return object;
}

/** The core in C. wasm2c names its functions after the file, so that is always `core`. */
function translateCore(wasm, folder) {
  run('wasm2c', [wasm, '-o', join(folder, 'core.c')]);
  const including = ['-I', folder, '-I', join(boardFolder, 'runtime'), '-DNDEBUG', '-w', '-Os'];
  return compile(join(folder, 'core.c'), join(folder, 'core.o'), including);
}

function compileBoard(folder, baud) {
  const including = [
    '-I',
    boardFolder,
    '-I',
    folder,
    '-I',
    join(boardFolder, 'runtime'),
    `-DSERIAL_BAUD=${baud}u`,
  ];
  return sources.map((source) =>
    compile(join(boardFolder, `${source}.c`), join(folder, `${basename(source)}.o`), [
      ...including,
      ...warnings,
      ...ramSafe,
      '-O2',
    ]),
  );
}

function link(objects, folder) {
  const elf = join(folder, 'treadle.elf');
  run('arm-none-eabi-gcc', [
    ...machine,
    '-nostartfiles',
    '--specs=nano.specs',
    '-T',
    join(boardFolder, 'image.ld'),
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

function build({ core, out, baud, quiet }) {
  if (!existsSync(core)) throw new Error(`${core} is not there; run "npm run build" first`);
  const objects = join(out, 'objects');
  const reportPath = join(out, 'report.json');
  const last = existsSync(reportPath) ? JSON.parse(readFileSync(reportPath, 'utf8')) : undefined;
  rmSync(objects, { recursive: true, force: true });
  mkdirSync(objects, { recursive: true });

  const coreObject = translateCore(core, objects);
  const bootBlock = sealBootBlock(join(boardFolder, 'boot_block.c'), objects, machine);
  const elf = link([bootBlock, ...compileBoard(objects, baud), coreObject], objects);
  const bin = join(objects, 'treadle.bin');
  run('arm-none-eabi-objcopy', ['-O', 'binary', elf, bin]);

  const image = readFileSync(bin);
  writeFileSync(join(out, 'treadle.elf'), readFileSync(elf));
  writeFileSync(join(out, 'treadle.bin'), image);
  writeFileSync(join(out, 'treadle.uf2'), writeUf2(image, flashBase));
  const report = measure(elf, objects);
  writeFileSync(reportPath, `${JSON.stringify(report, null, 2)}\n`);
  if (!quiet) printReport(report, last);
  if (report.problems.length > 0) throw new Error(report.problems.join('\n'));
  if (!quiet) console.log(`  for the board's drive: ${join(out, 'treadle.uf2')}`);
}

try {
  const missing = missingTools(['arm-none-eabi-gcc', 'arm-none-eabi-objdump', 'wasm2c']);
  if (missing.length > 0) {
    throw new Error(
      `The board's image needs ${missing.join(', ')}. On Debian or Ubuntu: sudo apt-get install gcc-arm-none-eabi libnewlib-arm-none-eabi wabt`,
    );
  }
  build(options());
} catch (error) {
  console.error(error.message);
  process.exitCode = 1;
}
