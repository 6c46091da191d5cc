import { createHash } from 'node:crypto';
import { type Mistake, mistakesIn } from './changes.js';
import type { FunctionBody } from './instructions.js';
import { blocksOf } from './rewrite.js';
import { watchedAt } from './watches.js';
import type { WholeCore } from './whole-core.js';

/** One instruction of the core, and what is done to it. */
export interface Mutant extends Mistake {
  /** The same for as long as nobody changes its function. */
  readonly id: string;
  readonly function: number;
  readonly instruction: number;
  /** Left by a test that may notice: of its block, or of its own where it is watched. */
  readonly mark: number;
  readonly file: string;
  readonly line: number;
}

function blockCount({ functions }: WholeCore): number {
  return blocksOf(functions).flat().at(-1)! + 1;
}

/** All that can be made, in the order of the code; what does not come of the core's own sources is none of them. */
export function mutantsOf(core: WholeCore): Mutant[] {
  const blocks = blocksOf(core.functions);
  let marks = blockCount(core);
  return core.functions.flatMap((body, inFunction) => {
    const { instructions } = body;
    const identity = identityOf(body);
    return instructions.flatMap((instruction, at) => {
      const [file = '', line] = core.lineOf(instruction.offset)?.split(':') ?? [];
      if (!file.startsWith('firmware/core/')) return [];
      return mistakesIn(instruction, core.signatures).map((mistake, index) => ({
        ...mistake,
        id: `${identity}.${at}.${index}`,
        function: inFunction,
        instruction: at,
        mark: watchedAt(instructions, at, mistake) === undefined ? blocks[inFunction]![at]! : marks++,
        file,
        line: Number(line),
      }));
    });
  });
}

/** By its name and what it does, whatever it is done to: numbers of functions and addresses change with every build. */
function identityOf({ name, instructions }: FunctionBody): string {
  const does = createHash('sha256').update(instructions.map((each) => each.name).join());
  return `${name}:${does.digest('hex').slice(0, 8)}`;
}

/** Whether it could be seen at all: what is only asked whether it is zero has no sign, and a truth has no other number. */
export function couldBeSeen(core: WholeCore, mutant: Mutant, sourceLine: string): boolean {
  const { instructions } = core.functions[mutant.function]!;
  const { name } = instructions[mutant.instruction]!;
  const next = instructions[mutant.instruction + 1]?.name ?? '';
  if (/\.load(8|16)_[su]$/.test(name) && /^(if|br_if|i32\.eqz|select)$/.test(next)) return false;
  return !(
    (mutant.words === '1 as 2' && /\btrue\b/.test(sourceLine)) ||
    (mutant.words === '0 as -1' && /\bfalse\b/.test(sourceLine))
  );
}
