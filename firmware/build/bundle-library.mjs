/**
 * Puts the compiled library and command line together into the few files that the package has of them: one for each
 * subpath of its exports and each command, and one for what they share of each room; beside them the types that the
 * subpaths reach. What package.json names as a dependency stays outside; of the other packages what is used goes in, and
 * of zod, whose types stand in ours: Node takes longer to find their many files than to run a command.
 */
import { chmodSync, cpSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { rolldown } from 'rolldown';
import { projectFolder } from './stamp.mjs';

const library = 'dist/library';
/** What each command needs of packages; the others go with the protocol, which help and a list of nights must not wait for. */
const forCommands = { name: 'commander', test: /node_modules\/(?:commander|env-paths|is-safe-filename)\// };
const { bin, exports, dependencies } = JSON.parse(readFileSync(join(projectFolder, 'package.json'), 'utf8'));

/** `./dist/library/types/host/board/index.d.ts` -> `dist/host/board/index`, for each subpath that has types. */
const compiled = Object.values(exports)
  .filter(({ types }) => types !== undefined)
  .map(({ types, default: code }) => ({
    name: code.match(/([^/]+)\.js$/)[1],
    path: types.replace(`./${library}/types`, 'dist').replace(/\.d\.ts$/, ''),
  }));

/** With how stops and times are written: what logs say has them. */
const ground =
  /dist\/(?:host\/(?:core\/|files\/|cli\/(?:exit-code|running-command)|recipe\/(?:fine-stops|text\/(?:stop|time|unreadable)-|baths\/(?:bath-time|temperature)-)|(?!index)[^/]+$)|shared-protocol\/(?:limits|settings|wire-text|field-check|read-record|generated\/))/;
/** What is read and shown of a log, apart from the rooms that it stands in: a list of nights needs no schema and no board. */
const reading = {
  'archive-reading':
    /dist\/host\/records\/(?!index|recipes\/|again\/|flashing\/|archive\/(?:collect-|file-archive|recipe-versions)|log\/(?:event|log)-)/,
  'log-views':
    /dist\/host\/(?:records\/log\/|pages\/night\/night-rows|cli\/log-views\/(?:csv|print|show|table))/,
  terminal:
    /dist\/host\/cli\/(?:log-views\/|terminal\/(?:clean|print|table|text-width)|usage-error|naming-option|options|write-new-file)/,
};

/** Rooms whose files are wanted together; each command has its own, and what the parser of options needs, apart. */
const rooms = ['recipe', 'board', 'records', 'darkroom', 'daylight', 'pages'];
/** What the desk's thread runs begins as it is loaded, and has a file of its own. */
const desk = { name: 'desk-room', test: /dist\/host\/desk\/(?!server\/thread\/within\/)/ };
const sharedByCommands =
  /dist\/host\/cli\/(?:simulator\/|log-views\/|terminal\/(?!output-errors)|(?:board-session|(?:read|write|recipe|strip|naming|new|state|stopped|trace|tell|version|change|paper|profile|bath)-)|pictures\.)/;

async function bundleCode() {
  const bundle = await rolldown({
    cwd: projectFolder,
    input: {
      ...Object.fromEntries(compiled.map(({ name, path }) => [name, `./${path}.js`])),
      main: './dist/host/cli/main.js',
      // By its name for the tests, which run commands without a process for each.
      run: './dist/host/cli/run.js',
      'desk-thread': './dist/host/desk/server/thread/within/thread-main.js',
    },
    platform: 'node',
    // Of a package that has both, the form whose parts are known by name (jsonc-parser's other one hides them).
    resolve: { mainFields: ['module', 'main'] },
    preserveEntrySignatures: 'allow-extension',
    external: (name) => name.startsWith('node:') || (Object.hasOwn(dependencies, name) && name !== 'zod'),
  });
  const { output } = await bundle.write({
    // As deep as the compiled files lie: core.wasm is found from there.
    dir: `${library}/js`,
    format: 'esm',
    codeSplitting: {
      groups: [
        forCommands,
        { name: 'ground', test: ground },
        { name: 'planner', test: /dist\/host\/recipe\/planner\// },
        {
          name: 'protocol',
          test: /node_modules\/|dist\/(?:shared-protocol\/(?!generated\/)|host\/board\/link\/log-record)/,
        },
        ...Object.entries(reading).map(([name, test]) => ({ name, test })),
        ...rooms.map((room) => ({ name: `${room}-room`, test: new RegExp(`dist/host/${room}/`) })),
        desk,
        { name: 'commands', test: sharedByCommands },
      ],
      includeDependenciesRecursively: false,
    },
  });
  await bundle.close();
  // npm does so once; `npx treadle` runs the same file after the next build.
  for (const command of Object.values(bin)) chmodSync(join(projectFolder, command), 0o755);
  writeLicences(output);
}

/** What the makers of the packages that were taken in ask for: their notice wherever a copy of their work goes. */
function writeLicences(output) {
  const taken = new Set(output.flatMap(({ moduleIds = [] }) => moduleIds.flatMap(packageIn)));
  writeFileSync(
    join(projectFolder, library, 'LICENSES-OF-PACKAGES.txt'),
    [...taken].sort().map(licenceOf).join('\n\n'),
  );
}

function packageIn(path) {
  return path.match(/.*\/node_modules\/((?:@[^/]+\/)?[^/]+)\//)?.[1] ?? [];
}

/** @throws Error where a package has none to show: then it may not be taken in */
function licenceOf(name) {
  const folder = join(projectFolder, 'node_modules', name);
  const file = readdirSync(folder).find((one) => /^licen[cs]e/i.test(one));
  if (file === undefined) throw new Error(`${name} has no licence in ${folder}`);
  return `${name}\n\n${readFileSync(join(folder, file), 'utf8').trim()}\n`;
}

const importedTypes = /(?:from |import\()['"](\.[^'"]+)\.js['"]/g;

function reachTypes(path, reached = new Set()) {
  if (reached.has(path)) return reached;
  reached.add(path);
  for (const [, imported] of readFileSync(join(projectFolder, path), 'utf8').matchAll(importedTypes))
    reachTypes(`${join(dirname(path), imported)}.d.ts`, reached);
  return reached;
}

function copyTypes() {
  const reached = new Set();
  for (const { path } of compiled) reachTypes(`${path}.d.ts`, reached);
  for (const path of reached)
    cpSync(join(projectFolder, path), join(projectFolder, path.replace('dist', `${library}/types`)));
}

await bundleCode();
copyTypes();
