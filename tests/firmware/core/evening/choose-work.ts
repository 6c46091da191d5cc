import type { Message, MessageOf } from '../../../../shared-protocol/index.js';
import { boathouse } from './boathouse.js';
import type { EveningBench } from './evening-bench.js';

export type Work = MessageOf<'choose'>['job'];

/** As a laptop chooses it, of the boathouse where it is of a recipe. @returns what the board answered */
export function chooseWork(bench: EveningBench, job: Work): Message[] {
  const name = job === 'recipe' || job === 'bracket' ? boathouse.name : '';
  return bench.ask({ type: 'choose', id: 0, job, name });
}
