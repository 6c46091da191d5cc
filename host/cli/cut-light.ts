import { seconds } from '../figures.js';
import { timeFromPlainKeys } from '../recipe/text/plain-keys.js';
import { readExposure } from '../recipe/text/time-text.js';
import { CutLightError, type GivenOptions } from '../records/again/given-passes.js';
import { answersAtTheTerminal } from './questions/at-a-terminal.js';
import { conduct } from './questions/conduct.js';
import { ask } from './questions/question.js';
import { readOption } from './read-options.js';

export interface CutOptions {
  readonly cut?: string;
  readonly json?: true;
}

/**
 * What `work` makes of a sheet. Where a power cut ended one of its lights, and the option does not say how much fell, somebody at
 * the terminal is asked.
 * @throws CutLightError where nobody can be asked
 */
export async function withCutLight<Result>(
  { cut, json }: CutOptions,
  work: (given: GivenOptions) => Result,
): Promise<Result> {
  if (cut !== undefined) return work({ cut: readOption('--cut', cut, readCut) });
  try {
    return work({});
  } catch (error) {
    const canAsk = process.stdin.isTTY && process.stderr.isTTY && json === undefined;
    if (!(error instanceof CutLightError) || !canAsk) throw error;
    return work({ cut: await askedFor(error) });
  }
}

function askedFor({ what, plannedMs }: CutLightError): Promise<number | 'all'> {
  return conduct(
    () =>
      ask({
        key: 'cut',
        ask: `How much of the ${seconds(plannedMs)} of ${what}, fell before the power failed`,
        help: "The log has only that it was begun. Write what you remember: 'all', 'none', or a time, such as 5s. The more of a pass was over, the less a wrong guess matters.",
        read: (answer) => readCut(answer),
      }),
    answersAtTheTerminal(),
  );
}

/** 'none' is no command here: nobody can leave this empty. */
function readCut(text: string): number | 'all' {
  const word = text.trim().toLowerCase();
  if (word === 'all') return 'all';
  return word === 'none' ? 0 : readExposure(timeFromPlainKeys(text));
}
