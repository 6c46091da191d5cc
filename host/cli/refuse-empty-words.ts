import type { Command } from 'commander';

/** Filters may have no name: that is what having no filter is called. */
const MAY_BE_EMPTY = '<filter>';

/**
 * Ends a command that was given an empty word, which mostly comes of a variable that was never set: told here, once,
 * as what it is, and not by each command as whatever it would come to.
 */
export function refuseEmptyWords(command: Command): void {
  const argument = command.registeredArguments.find((_, at) => isEmpty(command.processedArgs[at]));
  if (argument !== undefined)
    command.error(`error: <${argument.name()}> was given as '', which is empty; give it a value`);
  for (const option of command.options) {
    if (option.flags.endsWith(MAY_BE_EMPTY) || !isEmpty(command.getOptionValue(option.attributeName())))
      continue;
    const fromEnvironment = command.getOptionValueSource(option.attributeName()) === 'env';
    command.error(
      fromEnvironment
        ? `error: the environment variable ${option.envVar} is set and empty; give it a value, or unset it`
        : `error: ${option.long} was given as '', which is empty; give it a value, or leave it out`,
    );
  }
}

function isEmpty(value: unknown): boolean {
  return Array.isArray(value) ? value.some(isEmpty) : typeof value === 'string' && value.trim() === '';
}
