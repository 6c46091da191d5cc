import { extname } from 'node:path';
import type { Command } from 'commander';
import { commonPaper, Paper } from '../../darkroom/paper/paper.js';
import { printingMapHtml, printingMapSvg } from '../../pages/map/printing-map.js';
import { backdropOf } from '../../pages/map/scan-backdrop.js';
import { loadPlanner } from '../../recipe/planner/index.js';
import { examples, forceOption, lagOption, riseOption } from '../options.js';
import { negativeFor } from '../pictures.js';
import { readLamp } from '../read-options.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS, readRecipeFile } from '../read-recipe-file.js';
import { remark } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';
import { checkNewFile, writeNewFile } from '../write-new-file.js';

interface MapOptions {
  readonly output: string;
  readonly scan?: string;
  readonly lag: string;
  readonly rise: string;
  readonly force?: true;
}

/** Longest side of a scan behind the map: a page needs no more. */
const SCAN_PIXELS = 1200;

export function define(command: Command): void {
  command
    .argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS)
    .requiredOption('-o, --output <file>', 'page to write, its name ending in .html or .svg')
    .option('--scan <picture>', 'scan of the negative; the areas are drawn over a pale print of it')
    .addOption(lagOption())
    .addOption(riseOption())
    .addOption(forceOption())
    .addHelpText(
      'after',
      examples(
        'treadle map boathouse.json -o boathouse.html',
        'treadle map boathouse.json --scan 07-12.png -o boathouse.svg',
      ),
    )
    .action(drawMap);
}

async function drawMap(path: string, options: MapOptions): Promise<void> {
  const write = writerFor(options.output);
  await checkNewFile(options.output, options.force === true);
  const conditions = { lamp: readLamp(options) };
  const recipe = await readRecipeFile(path, conditions);
  const plan = loadPlanner().planRecipe(recipe, conditions);
  const backdrop = options.scan && (await backdropFrom(options.scan, recipe, plan));
  const page = write(recipe, plan, backdrop ? { backdrop } : {});
  await writeNewFile(options.output, page, options.force === true);
  remark(`The printing map is in ${options.output}: print it on A4.`);
}

function writerFor(output: string): typeof printingMapSvg {
  const kind = extname(output).toLowerCase();
  if (kind === '.svg') return printingMapSvg;
  if (kind === '.html') return printingMapHtml;
  throw new UsageError(`--output: '${output}' does not end in .html or .svg`);
}

/** The straight print of the scan, pale enough to draw on. */
async function backdropFrom(
  scan: string,
  recipe: Parameters<typeof printingMapSvg>[0],
  plan: Parameters<typeof printingMapSvg>[1],
) {
  const { previewPrint } = await import('../../darkroom/index.js');
  const negative = await negativeFor({ scan }, recipe.framing, SCAN_PIXELS);
  return backdropOf(previewPrint(recipe, plan, { negative, paper: new Paper(commonPaper) }).picture);
}
