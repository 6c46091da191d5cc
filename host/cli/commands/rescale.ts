import type { Command } from 'commander';
import type { Rescaled } from '../../daylight/rescale.js';
import { rescaleRecipe } from '../../daylight/revise/revise.js';
import { seconds } from '../../figures.js';
import { addChangeOptions, type ChangeOptions, changeFrom } from '../change-options.js';
import { type NewVersionOptions, tellNewVersion } from '../new-version.js';
import { examples, forceOption, jsonOption, outputOption } from '../options.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS, readRecipeFile } from '../read-recipe-file.js';
import { adviceLines } from '../terminal/advice-lines.js';
import { cleanText } from '../terminal/clean-text.js';
import { table } from '../terminal/table.js';

interface RescaleOptions extends NewVersionOptions, ChangeOptions {}

export function define(command: Command): void {
  addChangeOptions(command.argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS))
    .addOption(outputOption())
    .addOption(forceOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle rescale boathouse.json --magnification 5:8 --aperture f/8:f/5.6',
        'treadle rescale boathouse.json --from 18x24cm --to 30x40cm -o boathouse-large.json',
      ),
    )
    .action(rescale);
}

async function rescale(path: string, options: RescaleOptions): Promise<void> {
  const recipe = await readRecipeFile(path);
  const { recipe: changed, account } = rescaleRecipe(recipe, changeFrom(options), new Date());
  await tellNewVersion(changed, { words: words(account), data: account }, options);
}

function words({ beforeMs, baseMs, stops, factor, reasons, cautions }: Rescaled): string {
  const sign = stops < 0 ? '' : '+';
  const lines = [
    table(
      [{ head: 'factor', align: 'right' }, { head: 'stops', align: 'right' }, { head: 'because' }],
      reasons.map((reason) => [
        reason.factor.toFixed(4),
        `${reason.stops < 0 ? '' : '+'}${reason.stops.toFixed(3)}`,
        reason.because,
      ]),
    ),
    '',
    `base ${seconds(beforeMs)} to ${seconds(baseMs)}: x ${factor.toFixed(4)}, ${sign}${stops.toFixed(3)} stop`,
    ...adviceLines(cautions),
  ];
  return lines.map((line) => cleanText(line, 'lines')).join('\n');
}
