import { mostImageBytes } from '../../../board/flash/firmware-image.js';
import { NotAllowedAtBoardError } from '../../../board/flash/flash-errors.js';
import { lookOverImage } from '../../../board/flash/look-over-image.js';
import { ownImagePath, readOwnImage } from '../../../board/flash/own-image.js';
import { flashBoard, flashedWords } from '../../../records/flashing/flash-board.js';
import type { FlashOptions, FlashTelling } from '../../../records/flashing/flash-options.js';
import { failureOf } from '../failure.js';
import type { Ways } from '../way.js';
import { type BoardAtDesk, theDesk } from './board-at-desk.js';
import { NewsLines } from './news-lines.js';
import type { FlashNews } from './told.js';

/**
 * New firmware for the board, as the command puts it there: the hand at the board's knob allows it, and no request does.
 * What was begun is gone on with when the page goes away.
 */
export function flashRoom(desk: BoardAtDesk, where: Pick<FlashOptions, 'archive' | 'port' | 'drive'>): Ways {
  let isUnderWay = false;
  return {
    '/api/board/flash': {
      POST: {
        mostBodyBytes: mostImageBytes,
        answer: async ({ body, query }) => {
          if (isUnderWay) throw new NotAllowedAtBoardError('new firmware is on its way to the board already');
          const image = await imageOf(body, query.get('name'));
          const options = {
            ...where,
            opening: { holder: theDesk },
            ...(query.get('older') === 'true' && { older: true as const }),
          };
          const told = new NewsLines<FlashNews>();
          isUnderWay = true;
          void desk
            .lend(() => flashBoard(image, options, tellingTo(told)))
            .then(
              (flashed) => told.say({ words: flashedWords(flashed) }),
              (error: unknown) => told.say({ trouble: failureOf(error).message }),
            )
            .finally(() => {
              isUnderWay = false;
              told.end();
            });
          return { type: 'application/x-ndjson', pieces: told.lines() };
        },
      },
    },
  };
}

/** The file of the page, or the image that came with this copy of treadle. @throws ImageError */
async function imageOf(body: Uint8Array, name: string | null) {
  if (body.length === 0) return lookOverImage(await readOwnImage(), ownImagePath);
  return lookOverImage(body, name ?? 'the file');
}

function tellingTo(told: NewsLines<FlashNews>): FlashTelling {
  return {
    say: (words) => told.say({ words }),
    progress: (what) => ({ to: (done, all) => told.say({ what, done, all }), stop: () => {} }),
  };
}
