import type { BoardHome } from '../../../../host/board/sim/board-home.js';
import type { MessageType } from '../../../../shared-protocol/index.js';
import type { EveningBench } from './evening-bench.js';

/** The log's entries of one kind, oldest first. */
export function entries<Home extends BoardHome>(bench: EveningBench<Home>, type: MessageType) {
  return bench.log().filter((entry) => entry.type === type);
}
