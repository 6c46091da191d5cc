import { type ParseArgsConfig, parseArgs } from 'node:util';

/** As Node reads them; what it does not know ends the program in words, with `usage`. */
export function readOptions<Config extends ParseArgsConfig>(
  usage: string,
  config: Config,
): ReturnType<typeof parseArgs<Config>> {
  try {
    return parseArgs(config);
  } catch (error) {
    console.error(`${(error as Error).message}\n${usage}`);
    return process.exit(2);
  }
}
