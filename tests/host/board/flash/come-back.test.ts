import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { awaitNewFirmware } from '../../../../host/board/flash/come-back.js';
import { readFirmwareImage } from '../../../../host/board/flash/firmware-image.js';
import { NotBackError } from '../../../../host/board/flash/flash-errors.js';
import type { Welcome } from '../../../../host/board/link/handshake.js';
import { openBoard } from '../../../../host/board/link/open-board.js';
import { BoardAtAPort } from '../../cli/board-at-a-port.js';
import { anImage, anImageFile } from './an-image.js';

const image = readFirmwareImage(anImageFile());

describe('a board that is to come back with new firmware', () => {
  let desk: BoardAtAPort;
  let now: Welcome;
  beforeAll(async () => {
    desk = await BoardAtAPort.start();
    await using board = await openBoard(desk.path);
    now = board.welcome;
  });
  afterAll(() => desk.close());

  const wait = (of = image, before?: Welcome) =>
    awaitNewFirmware(of, { port: desk.path, paths: [], before, waitMs: 0 });
  const failureOf = async (of = image, before?: Welcome) => {
    const error = await wait(of, before).catch((thrown: unknown) => thrown);
    expect(error).toBeInstanceOf(NotBackError);
    return (error as Error).message;
  };

  it('is back when it says the version, and has started since', async () => {
    expect(await wait()).toMatchObject({ boardId: now.boardId });
    expect(await wait(image, { ...now, boot: now.boot - 1 })).toMatchObject({ boardId: now.boardId });
  });

  it('is not when it never went', async () => {
    expect(await failureOf(image, { ...now, uptimeMs: 0 })).toContain('has not started with it');
  });

  it('is not with another version', async () => {
    const newer = readFirmwareImage(anImageFile(anImage(3000, { version: '9.0.0' })));
    expect(await failureOf(newer)).toMatch(/it says version .* and the image is 9\.0\.0/);
  });

  it('is not when it is another board', async () => {
    const other = { ...now, boardId: 'ffffffffffffffff' };
    expect(await failureOf(image, other)).toContain('ffffffffffffffff has not come back');
  });

  // By the boot button nothing is known of the board before: another one at the laptop, of that version, was taken for it.
  it('is not one that has been up all the time', async () => {
    desk.board.advanceUs(120_000_000);
    expect(await failureOf()).toContain('has not started with it');
  });

  it('is not when nobody answers', async () => {
    desk.board.cutPower();
    const error = await failureOf();
    expect(error).toMatch(/no board has come back.*'treadle info'.*boot program is in the chip's own ROM/s);
  });
});
