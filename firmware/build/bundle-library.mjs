/**
 * Puts the compiled library and command line together into the few files that the package has of them: one for each
 * subpath of its exports and each command, and one for what they share of each room; beside them the types that the
 * subpaths reach. The packages of the registry stay outside.
 */
import { cpSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { rolldown } from 'rolldown';
import { projectFolder } from './stamp.mjs';

const library = 'dist/library';
const { exports, dependencies } = JSON.parse(readFileSync(join(projectFolder, 'package.json'), 'utf8'));

/** `./dist/library/types/host/board/index.d.ts` -> `dist/host/board/index`, for each subpath that has types. */
const compiled = Object.values(exports)
  .filter(({ types }) => types !== undefined)
  .map(({ types, default: code }) => ({
    name: code.match(/([^/]+)\.js$/)[1],
    path: types.replace(`./${library}/types`, 'dist').replace(/\.d\.ts$/, ''),
  }));

/** With how stops and times are written: what logs say has them. */
const ground =
  /dist\/(?:host\/(?:core\/|files\/|cli\/exit-code|recipe\/(?:fine-stops|text\/(?:stop|time|unreadable)-|baths\/(?:bath-time|temperature)-)|(?!index)[^/]+$)|shared-protocol\/(?:limits|settings|wire-text|field-check|read-record|generated\/))/;
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
const rooms = ['recipe', 'board', 'records', 'darkroom', 'daylight', 'pages', 'desk'];
const sharedByCommands =
  /dist\/host\/cli\/(?:simulator\/|log-views\/|terminal\/(?!output-errors)|(?:board-session|(?:read|write|recipe|strip|naming|new|state|stopped|trace|tell|version|change)-)|pictures\.)/;

async function bundleCode() {
  const bundle = await rolldown({
    cwd: projectFolder,
    input: {
      ...Object.fromEntries(compiled.map(({ name, path }) => [name, `./${path}.js`])),
      main: './dist/host/cli/main.js',
    },
    platform: 'node',
    preserveEntrySignatures: 'allow-extension',
    external: (name) => name.startsWith('node:') || Object.hasOwn(dependencies, name),
  });
  await bundle.write({
    // As deep as the compiled files lie: core.wasm is found from there.
    dir: `${library}/js`,
    format: 'esm',
    codeSplitting: {
      groups: [
        { name: 'ground', test: ground },
        { name: 'planner', test: /dist\/host\/recipe\/planner\// },
        {
          name: 'protocol',
          test: /dist\/(?:shared-protocol\/(?!generated\/)|host\/board\/link\/log-record)/,
        },
        ...Object.entries(reading).map(([name, test]) => ({ name, test })),
        ...rooms.map((room) => ({ name: `${room}-room`, test: new RegExp(`dist/host/${room}/`) })),
        { name: 'commands', test: sharedByCommands },
      ],
      includeDependenciesRecursively: false,
    },
  });
  await bundle.close();
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
