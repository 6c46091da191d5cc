import { openMeant } from '../../../board/open-meant.js';
import { type AtDeskOptions, atDesk, BoardAtDesk } from './board-at-desk.js';

/** The board at that port, or of that name, or the only one; whoever finds its port busy is told that the desk has it. */
export function boardForDesk(port: string | undefined, options: AtDeskOptions = {}): BoardAtDesk {
  return new BoardAtDesk((signal) => openMeant(port, { ...atDesk, signal }), options);
}
