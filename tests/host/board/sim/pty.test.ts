import { SerialPort } from 'serialport';
import { describe, expect, it } from 'vitest';
import { offerPort } from '../../../../host/board/sim/pty.js';
import { scriptedBoard } from './scripted-board.js';

describe.skipIf(process.platform === 'win32')('a simulated board on a pseudo-terminal', () => {
  it('is a serial port to any program: bytes pass both ways unchanged', async () => {
    const board = scriptedBoard();
    const offered = await offerPort(board.plug());
    const port = new SerialPort({ path: offered.path, baudRate: 115_200 });
    try {
      const said = new Promise<string>((resolve) => {
        let text = '';
        port.on('data', (chunk: Buffer) => {
          text += chunk.toString('latin1');
          if (text.split('\n').length > 3) resolve(text);
        });
      });
      port.write(Buffer.from([0x0d, 0x03, 0xff]));
      expect(await said).toBe('r 13 0\nr 3 0\nr 255 0\n');
    } finally {
      await new Promise((resolve) => port.close(resolve));
      offered.close();
      board.close();
    }
  });
});
