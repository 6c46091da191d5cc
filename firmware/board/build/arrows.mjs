/**
 * Who may need whom among the board's folders. A chip is any folder that has a `chip.mjs`; what it offers to the others
 * is declared in chip/, and the inline half of that lies in its port/.
 */

/** The folder of what is the same on every chip with this processor. */
export const processor = 'armv6m';

/** What chips of one processor share counts as each one's own. */
export const allowed = {
  glue: ['glue', 'devices', 'runtime', 'chip', 'port', 'generated', 'core'],
  devices: ['devices', 'chip', 'port', 'generated'],
  runtime: ['runtime', 'chip', 'generated'],
  chip: ['chip', 'port', 'generated'],
  port: ['port', 'own'],
  own: ['own', 'port', 'chip', 'generated'],
  core: ['glue', 'runtime'],
};

/** A circle among `needs` (name -> names) as the names along it, or nothing. */
export function findCircle(needs) {
  const done = new Set();
  for (const start of needs.keys()) {
    const circle = walk(start, [], needs, done);
    if (circle) return circle;
  }
}

function walk(name, path, needs, done) {
  if (path.includes(name)) return [...path.slice(path.indexOf(name)), name];
  if (done.has(name)) return;
  for (const next of needs.get(name) ?? []) {
    const circle = walk(next, [...path, name], needs, done);
    if (circle) return circle;
  }
  done.add(name);
}
