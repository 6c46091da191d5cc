import { ArchiveShelf } from '../world/world-archive.js';
import { runWorld } from '../world/world.js';
const [first, count] = process.argv.slice(2).map(Number) as [number, number];
const shelf = new ArchiveShelf();
const t = performance.now();
const cpu = process.cpuUsage();
let bad = 0;
let n=0;
for (let seed = first; seed < first + count; seed++) {
  const report = await runWorld(seed, shelf);
  n++;
  if (count < 3) console.log(JSON.stringify(report));
  if (report.violations.length > 0) { console.log(seed, report.violations.slice(0, 3)); if (++bad > 5) break; }
}
const used = process.cpuUsage(cpu);
console.log((performance.now() - t) / n, 'ms a world', (used.user + used.system) / 1000 / n, 'cpu');
shelf.close();
