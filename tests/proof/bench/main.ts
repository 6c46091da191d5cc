import { cpus } from 'node:os';
import { projectVersion as version } from '../../../shared-protocol/project.js';
import { archiveFigures } from './archive.js';
import { boardFigures } from './board.js';
import { coreEvents } from './core-events.js';
import { deskFrames } from './desk.js';
import { deskPage } from './desk-page.js';
import { doseProof } from './dose-proof.js';
import { entrySize } from './entry-size.js';
import { eyesLimitSection } from './eyes-limit.js';
import { faultsSurvived } from './faults.js';
import { growth } from './growth/growth.js';
import { hostDecode } from './host-decode.js';
import { lightGiven } from './light-given.js';
import { logCollection } from './log-collection.js';
import { negativesRead } from './negatives-read.js';
import { nightsListed } from './nights-listed.js';
import { markdown, type Section } from './page.js';
import { papersMeasured } from './papers-measured.js';
import { preview } from './preview.js';
import { startUp } from './start-up.js';
import { stripsNeeded } from './strips-needed.js';
import { stripsRead } from './strips-read.js';
import { surveysRead } from './surveys-read.js';

/** Every section of the page, by the name under which it can be asked for alone. */
const sections: Record<string, () => Section | Section[] | Promise<Section> | Promise<Section[]>> = {
  'log-collection': logCollection,
  decode: hostDecode,
  'entry-size': entrySize,
  core: coreEvents,
  archive: archiveFigures,
  growth,
  'start-up': startUp,
  strips: async () => [stripsNeeded(), eyesLimitSection()],
  reading: stripsRead,
  negatives: negativesRead,
  papers: papersMeasured,
  survey: surveysRead,
  light: lightGiven,
  proof: doseProof,
  preview,
  desk: async () => [await deskFrames(), await nightsListed(), ...(await deskPage())],
  faults: faultsSurvived,
  board: boardFigures,
};

const asked = process.argv.slice(2);
const unknown = asked.filter((name) => !(name in sections));
if (unknown.length > 0) {
  console.error(`the bench has no section ${unknown.join(', ')}; it has ${Object.keys(sections).join(', ')}`);
  process.exit(2);
}

const machine = `Node ${process.version} on ${process.platform} ${process.arch}, ${cpus().length} x ${cpus()[0]?.model ?? 'unknown'}`;
console.log(
  `# treadle ${version}: figures\n\n${machine}. Each ratio was measured side by side in this run.\n`,
);
for (const [name, measure] of Object.entries(sections))
  if (asked.length === 0 || asked.includes(name))
    for (const section of [await measure()].flat()) console.log(markdown(section));
