import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { collectIntoArchive } from '../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import type { MessageOf } from '../../../shared-protocol/index.js';
import { wireText } from '../../../shared-protocol/wire-text.js';
import { Talk } from '../../host/board/link/talk.js';
import { treadle } from '../../host/cli/treadle.js';
import { suspiciousParts } from '../../host/pages/hostile-text.js';
import { listOf } from '../../setup/list-of.js';

/** What a label can hold at the most, as the schema bounds it. */
const LABEL_CHARS = 16;
const LABEL_BYTES = 60;

const hostileLabels = [
  '=cmd|"/c calc"!A',
  '+1+1',
  '-2+3',
  '@SUM(1)',
  '<script>x()',
  '"><img src=x>',
  "' onload='x()",
  '../../../etc/x',
  'C:\\\\autoexec',
  '\u202egnp.exe',
  '\u200b\ufeffzero',
  '$(reboot)',
  '`reboot`',
  "'; DROP TABLE r",
].map((label) => [...label].slice(0, LABEL_CHARS).join(''));

function exposure(seq: number, label: string): Omit<MessageOf<'exposure'>, 'id'> {
  return {
    type: 'exposure',
    boot: 1,
    seq,
    uptimeMs: seq * 1000,
    kind: 'base',
    recipe: '',
    pass: 1,
    patch: 0,
    label,
    filter: label.slice(0, 4),
    plannedMs: 1000,
    onMs: 1000,
    doseMs: 1000,
    outcome: 'complete',
    pauses: 0,
    sheet: 1,
  };
}

/** Bytes that are no lines, between those that are: they must be counted and never shown. */
const RUBBISH = '\u001b]0;owned\u0007\u001b[2J\u0000["label",1,"\u001b[31m","00000000"]\r\n';

let folder: string;
let file: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-hostile-'));
  file = join(folder, 'archive.sqlite');
  const talk = new Talk();
  const clock = {
    type: 'clock',
    boot: 1,
    seq: 1,
    uptimeMs: 1000,
    epochMs: Date.UTC(2027, 2, 5, 20),
  } as const;
  talk.peer.log = [clock, ...hostileLabels.map((label, index) => exposure(index + 2, label))];
  const archive = await openArchive(file);
  const board = await talk.open();
  talk.peer.say(RUBBISH);
  await talk.over(collectIntoArchive(archive, board));
  expect(board.linkCounters.badLines + board.linkCounters.badCrcs).toBeGreaterThan(0);
  await board.close();
  await archive.close();
});

afterAll(() => rmSync(folder, { recursive: true }));

const log = async (...words: string[]) => treadle(['nights', '--archive', file, ...words]);

// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what it looks for
const STEERING = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u200b-\u200f\u202a-\u202e\u2066-\u2069\ufeff]/;

describe('a board that means harm', () => {
  it('says only what the schema allows', () => {
    for (const label of hostileLabels) expect(wireText(label).length).toBeLessThanOrEqual(LABEL_BYTES);
  });

  it('has its log kept as it told it, in the archive and nowhere else', async () => {
    const archive = await openArchive(file);
    const labels = (await listOf(archive.records())).map(({ fields }) => fields[7]);
    await archive.close();
    expect(labels.slice(1)).toEqual(hostileLabels);
    expect(readdirSync(folder)).toEqual(['archive.sqlite']);
  });

  it('cannot steer the terminal that shows its log', async () => {
    const { code, out } = await log();
    expect(code).toBe(0);
    expect(out).not.toMatch(STEERING);
    expect(out).not.toContain('owned');
  });

  it('cannot put a formula into a spreadsheet (OWASP, CSV injection)', async () => {
    const { out } = await log('--csv');
    for (const cell of out.split(/\r?\n/).flatMap((row) => row.match(/("(?:[^"]|"")*"|[^,]*)(?:,|$)/g) ?? []))
      expect(cell).not.toMatch(/^"?[=+@]|^"?-\d+[+]/);
  });

  it('cannot put anything but text into a page', async () => {
    const page = join(folder, 'night.html');
    expect((await log('--html', page)).code).toBe(0);
    const html = readFileSync(page, 'utf8');
    expect(html).toContain('&lt;script&gt;');
    expect(suspiciousParts(html)).toEqual([]);
  });
});
