import { join } from 'node:path';
import type { LampEdge } from '../board/sim/board-home.js';
import { easelLux, enlargerThatSuits, leftWideOpen } from '../darkroom/light/enlarger.js';
import { LampTrace, lampFromLagAndRise, pulsesOnUs } from '../darkroom/light/lamp.js';
import { boathouseNegative } from '../darkroom/negative/demo-negative.js';
import { commonPaper, Paper } from '../darkroom/paper/paper.js';
import type { GreyPicture } from '../darkroom/picture/grey.js';
import { printPng, stripPng } from '../darkroom/picture/picture-file.js';
import {
  luxSecondsThatSuit,
  picturePrint,
  previewStrip,
  setupOf,
  shapesOf,
} from '../darkroom/picture/preview.js';
import { sheetAsGiven, stripExposuresMs } from '../darkroom/sheet/exposed-sheet.js';
import { writeWholeFile } from '../files/write-file.js';
import { formatStops } from '../recipe/index.js';
import { loadPlanner } from '../recipe/planner/index.js';
import { type EveningScans, eveningScanFiles, writeEveningScans } from './scans.js';
import { demoLamp, demoStrip, type EveningAccount } from './scripted-evening.js';

/** A picture of something that lay on the easel, and where it was written. */
export interface EveningPicture {
  readonly title: string;
  readonly path: string;
  readonly picture: GreyPicture;
}

/** Their names in the folder. */
const pictureFiles = {
  strip: 'strip.png',
  wideOpen: 'strip-lens-wide-open.png',
  print: 'print.png',
} as const;

/** Every file that the evening writes besides its archive. */
export const eveningFiles: readonly string[] = [
  ...Object.values(pictureFiles),
  ...Object.values(eveningScanFiles),
];

const NEGATIVE_PIXELS = 600;
const FILTER = '2';
/** An f/2 lens left open by whoever focused with it. */
const WIDEST = { marked: 2, exactFNumber: 2 } as const;

/**
 * The strip and the print as the relay's own edges exposed them, and the strip that the lens check saves people
 * from: the same exposures with the lens left wide open. Beside them the scans by which the strip is read back.
 * @throws FileThereError without `over` where one of them is there
 */
export async function writeEveningPictures(
  account: EveningAccount,
  folder: string,
  { over = false }: { readonly over?: boolean } = {},
): Promise<{ readonly pictures: EveningPicture[]; readonly scans: EveningScans }> {
  const { recipe } = account;
  const planner = loadPlanner();
  const plan = planner.planRecipe(recipe, { lamp: demoLamp });
  const preview = { negative: boathouseNegative(NEGATIVE_PIXELS), paper: new Paper(commonPaper) };
  const setup = setupOf(recipe);
  const luxSeconds = luxSecondsThatSuit(preview.negative, preview.paper, plan);
  const enlarger = enlargerThatSuits(setup, plan.baseMs, luxSeconds, WIDEST);
  const lux = easelLux(enlarger, setup);

  const request = { ...demoStrip, step: { stops120: demoStrip.stepStops120 }, lamp: demoLamp };
  const strip = planner.planStrip(request);
  const given = givenBy(account.strip.edges, (pulses) => planner.carryOutStrip(request, pulses));
  const exposureMs = stripExposuresMs(strip, given);
  const stripWith = (atLux: number) =>
    previewStrip(strip, demoStrip.cover, FILTER, atLux, preview, exposureMs);

  const print = picturePrint(
    sheetAsGiven(
      plan,
      shapesOf(recipe),
      lux,
      givenBy(account.print.edges, (pulses) => planner.carryOutRecipe(recipe, pulses, { lamp: demoLamp })),
    ),
    preview,
  ).picture;
  const pictures = [
    { title: 'The strip', path: join(folder, pictureFiles.strip), picture: stripWith(lux) },
    {
      title: 'The strip as it would be with the lens left wide open',
      path: join(folder, pictureFiles.wideOpen),
      picture: stripWith(easelLux(enlarger, leftWideOpen(enlarger, setup))),
    },
    { title: 'The print', path: join(folder, pictureFiles.print), picture: print },
  ];
  const captions = strip.patches.map(({ doseMs, stops120 }, at) => ({
    fromPercent: (at / strip.patches.length) * 100,
    toPercent: ((at + 1) / strip.patches.length) * 100,
    lines: [`${(doseMs / 1000).toFixed(1)} s`, formatStops(stops120)],
  }));
  for (const { path, picture } of pictures.slice(0, 2))
    await writeWholeFile(path, await stripPng(picture, captions), { over });
  await writeWholeFile(pictures[2]!.path, await printPng(print), { over });
  const scans = await writeEveningScans(pictures[0]!.picture, preview.negative, folder, { over });
  return { pictures, scans };
}

/** The light that a sheet got, from the edges that the board's relay made. */
function givenBy<Carried>(edges: readonly LampEdge[], carryOut: (pulsesUs: number[]) => Carried) {
  const lamp = lampFromLagAndRise(demoLamp.lagMs, demoLamp.riseMs);
  return { carried: carryOut(pulsesOnUs(edges)), edges, trace: new LampTrace(lamp, edges) };
}
