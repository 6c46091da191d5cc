import type { Command } from 'commander';
import { splitRecipe } from '../../daylight/revise/revise.js';
import { seconds } from '../../figures.js';
import { formatStops, readTime } from '../../recipe/index.js';
import { loadPlanner } from '../../recipe/planner/index.js';
import { type NewVersionOptions, tellNewVersion } from '../new-version.js';
import { examples, forceOption, jsonOption, outputOption } from '../options.js';
import { readOption } from '../read-options.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS, readRecipeFile } from '../read-recipe-file.js';
import { UsageError } from '../usage-error.js';

interface SplitOptions extends NewVersionOptions {
  readonly soft: string;
  readonly hard: string;
}

export function define(command: Command): void {
  command
    .argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS)
    .requiredOption(
      '--soft <filter:time>',
      'soft filter, and the exposure that prints the highlights right through it',
    )
    .requiredOption(
      '--hard <filter:time>',
      'hard filter, and the exposure that prints the shadows right on top of it',
    )
    .addOption(outputOption())
    .addOption(forceOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples('treadle split boathouse.json --soft 00:8s --hard 5:12s -o boathouse-split.json'),
    )
    .action(split);
}

async function split(path: string, options: SplitOptions): Promise<void> {
  const recipe = await readRecipeFile(path);
  const strips = { soft: lightOf('--soft', options.soft), hard: lightOf('--hard', options.hard) };
  const { recipe: changed, account } = splitRecipe(loadPlanner(), recipe, strips, new Date());
  const words = [
    `base ${seconds(account.baseMs)} through filter ${strips.soft.filter}`,
    `then ${seconds(account.hardMs)} through filter ${strips.hard.filter}, ${formatStops(account.passes[1].stops120)} stop from the base`,
  ];
  await tellNewVersion(changed, { words: words.join('\n'), data: account }, options);
}

function lightOf(option: string, text: string): { filter: string; doseMs: number } {
  const [filter, time] = text.split(':');
  if (!filter || !time) throw new UsageError(`${option}: '${text}' is not filter:time, such as 00:8s`);
  return { filter, doseMs: readOption(option, time, readTime) };
}
