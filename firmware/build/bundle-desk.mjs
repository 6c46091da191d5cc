/**
 * Puts the desk's page together into the few files that a browser opens, from a server or from a folder: the page, one
 * style, one script, and the core as a second script, since a page that was opened as a file may fetch nothing.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { rolldown } from 'rolldown';
import { projectFolder } from './stamp.mjs';

const inProject = (path) => join(projectFolder, path);
const source = 'host/desk/page';
const target = inProject('dist/library/desk');

async function bundleScript(entry, name) {
  const bundle = await rolldown({
    cwd: projectFolder,
    input: `${source}/${entry}`,
    platform: 'browser',
    // A classic script has no address of its own; the core's loader asks for one, and in a page reads nothing from it.
    transform: { define: { 'import.meta.url': 'document.baseURI' } },
  });
  // A classic script: one that is a module cannot be loaded from a folder.
  await bundle.write({ file: join(target, name), format: 'iife', minify: true, codeSplitting: false });
  await bundle.close();
}

/** The policy stands in the page as well, for when no server sends it. */
async function writePage() {
  const { pagePolicy } = await import('../../dist/host/desk/policy.js');
  const page = readFileSync(inProject(`${source}/index.html`), 'utf8');
  writeFileSync(join(target, 'index.html'), page.replace('{policy}', pagePolicy));
}

/** The shell's first, then each view's own. */
function writeStyle() {
  const styles = [
    'shell/shell.css',
    'print/print.css',
    'picture/picture.css',
    'order-of-work/order-of-work.css',
    'board/board.css',
    'nights/nights.css',
    'rehearsal/rehearsal.css',
  ];
  const text = styles.map((name) => readFileSync(inProject(`${source}/${name}`), 'utf8')).join('\n');
  writeFileSync(join(target, 'desk.css'), text);
}

function writeCore() {
  const bytes = readFileSync(inProject('dist/core.wasm')).toString('base64');
  writeFileSync(join(target, 'core.js'), `globalThis.treadleCore = '${bytes}';\n`);
}

mkdirSync(target, { recursive: true });
await bundleScript('main.tsx', 'desk.js');
// What works out pictures beside the page, in a worker.
await bundleScript('picture/picture-worker.ts', 'picture.js');
await writePage();
writeCore();
writeStyle();
