import { forgetPort, notePort } from '../../../board/link/port-note.js';
import { openMeant } from '../../../board/open-meant.js';
import { type AtDeskOptions, BoardAtDesk } from './board-at-desk.js';

/** The board at that port, or of that name, or the only one; whoever finds its port busy is told that the desk has it. */
export function boardForDesk(port: string | undefined, options: AtDeskOptions = {}): BoardAtDesk {
  let noted: string | undefined;
  const onPort = (path: string | undefined) => {
    if (noted !== undefined) forgetPort(noted);
    if (path !== undefined) notePort(path);
    noted = path;
  };
  return new BoardAtDesk((signal) => openMeant(port, { signal }), { onPort, ...options });
}
