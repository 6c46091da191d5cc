import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { TraceFile } from '../../../host/cli/trace-file.js';
import { FileThereError } from '../../../host/files/file-access-error.js';
import { damaged } from '../board/link/scripted-peer.js';
import { Talk } from '../board/link/talk.js';
import { BoardAtAPort } from './board-at-a-port.js';

let folder: string;
let file: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-trace-'));
  file = join(folder, 'trace.txt');
});
afterEach(() => rmSync(folder, { recursive: true }));

const linesOf = (path: string) => readFileSync(path, 'utf8').trimEnd().split('\n');

describe('a trace', () => {
  it('has each line in and out with its time, in order, and what was thrown away and why', async () => {
    const talk = new Talk();
    const trace = new TraceFile(file);
    talk.peer.say('\x00\xff rubbish\n');
    const board = await talk.open({ observe: trace.observe });
    let first = true;
    talk.peer.outgoing = (line) => {
      const spoilt = first ? damaged(line) : line;
      first = false;
      return spoilt;
    };
    await talk.over(board.status());
    talk.peer.tell({ type: 'ok' }, 4711);
    talk.peer.say(`${'~'.repeat(500)}\n`);
    talk.peer.say('a line without its end');
    await talk.pass(1);
    await board.close();
    trace.close();
    const lines = linesOf(file);
    for (const line of lines.slice(1))
      expect(line).toMatch(/^\d{4}-\d\d-\d\dT[\d:.]+Z the stream handed in [><x#] /);
    const said = lines.map((line) => line.replace(/^.* handed in /, ''));
    const places = [
      /^> \["hello",100,/,
      /^x \\x00\\xff rubbish {2}\(bad-line: /,
      /^< \["welcome",100,/,
      /^> \["ping",102,/,
      /^x \["status",.* {2}\(bad-crc: its checksum does not fit\)$/,
      /^< \["status",102,/,
      /^# not taken: 'ok' 4711 answers nothing that is asked$/,
      /^x ~{241} {2}\(bad-line: 241 bytes are too many\)$/,
      /^x a line without its end {2}\(22 bytes without a newline\)$/,
      /^# this program closed the connection$/,
    ].map((pattern) => said.findIndex((line) => pattern.test(line)));
    expect(places).toEqual([...places].sort((one, other) => one - other));
    expect(places).not.toContain(-1);
  });

  it('is in the file line by line as it happens, not only at the end', async () => {
    const talk = new Talk();
    const trace = new TraceFile(file);
    const board = await talk.open({ observe: trace.observe });
    talk.peer.answer = ({ type }) => {
      if (type === 'ping') expect(linesOf(file).at(-1)).toContain('> ["ping"');
      return undefined;
    };
    await talk.over(board.status());
    await board.close();
    trace.close();
  });

  it('ends at its limit, and says so', () => {
    const trace = new TraceFile(file, 2000);
    for (let at = 0; at < 1000; at++) trace.observe({ path: 'p', kind: 'sent', text: `line ${at}` });
    trace.close();
    expect(readFileSync(file, 'utf8').length).toBeLessThan(2300);
    expect(linesOf(file).at(-1)).toMatch(
      /the trace ends here: this file has reached its limit of 2000 bytes/,
    );
  });

  it('never takes the place of a file that is there', () => {
    writeFileSync(file, 'mine');
    expect(() => new TraceFile(file)).toThrow(FileThereError);
    expect(readFileSync(file, 'utf8')).toBe('mine');
  });

  it('is written by every command that talks to a board, and named where it helps', async () => {
    const desk = await BoardAtAPort.start();
    expect((await desk.treadle('info', '--trace', file)).code).toBe(0);
    expect(linesOf(file).some((line) => line.includes(`${desk.path} < ["welcome",`))).toBe(true);
    const again = await desk.treadle('info', '--trace', file);
    expect(again).toMatchObject({ code: 2, out: '' });
    expect(again.err).toMatch(/^treadle: --trace: .* is there already/);
    desk.board.linkFaults.set('framing', 3);
    expect((await desk.treadle('diagnose', '--questions', '2')).out).toContain('--trace FILE');
    desk.close();
  });
});
