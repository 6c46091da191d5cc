import { type Command, Option } from 'commander';
import { filtersOption, forceOption, jsonOption, lagOption, outputOption, riseOption } from '../options.js';

/** Options of the commands that ask, or are told by `--set`. */
export function addMakingOptions(command: Command, output: string, settingExample: string): Command {
  return command
    .addOption(
      new Option('--set <name=value>', `${settingExample}, without questions; may be given again`)
        .argParser((setting: string, before: string[] | undefined) => [...(before ?? []), setting])
        .conflicts('answers'),
    )
    .option(
      '--answers <file>',
      'take the answers from a file, one a line, instead of asking; - for standard input',
    )
    .addOption(outputOption(output))
    .addOption(forceOption())
    .addOption(lagOption())
    .addOption(riseOption())
    .addOption(filtersOption())
    .addOption(jsonOption());
}
