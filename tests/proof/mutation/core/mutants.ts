import { type Mistake, mistakesIn } from './changes.js';
import { blocksOf } from './rewrite.js';
import type { WholeCore } from './whole-core.js';

/** One instruction of the core, and what is done to it. */
export interface Mutant extends Mistake {
  readonly id: string;
  readonly function: number;
  readonly instruction: number;
  readonly block: number;
  readonly file: string;
  readonly line: number;
}

/** All that can be made, in the order of the code; what does not come of the core's own sources is none of them. */
export function mutantsOf(core: WholeCore): Mutant[] {
  const blocks = blocksOf(core.functions);
  return core.functions.flatMap(({ instructions }, inFunction) =>
    instructions.flatMap((instruction, at) => {
      const [file = '', line] = core.lineOf(instruction.offset)?.split(':') ?? [];
      if (!file.startsWith('firmware/core/')) return [];
      return mistakesIn(instruction, core.signatures).map((mistake, index) => ({
        ...mistake,
        id: `${inFunction}.${at}.${index}`,
        function: inFunction,
        instruction: at,
        block: blocks[inFunction]![at]!,
        file,
        line: Number(line),
      }));
    }),
  );
}
