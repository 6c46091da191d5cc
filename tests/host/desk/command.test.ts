import {
  chmodSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, dirname, join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { treadle, treadleUntil } from '../cli/treadle.js';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-desk-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** What the script may weigh on its way to a page, the core aside. */
const MOST_COMPRESSED_BYTES = 150_000;

describe('treadle desk', () => {
  it('prints the address where it is to open nothing, answers there, and ends at an interrupt', async () => {
    let answered: Response | undefined;
    const { code, out, err } = await treadleUntil(
      ['desk', '--no-open', '--archive', join(folder, 'a.sqlite')],
      /#/,
      async (said) => {
        answered = await fetch(said.trim());
      },
    );
    expect({ code, err, status: answered?.status }).toEqual({ code: 0, err: '', status: 200 });
    expect(out).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/#[\w-]{43}\n$/);
  });

  // The words of a command line can be read by every program on a computer, and with them would be the token.
  it.runIf(process.platform === 'linux')(
    'opens the browser by a file that only its owner can read',
    async () => {
      const seen = join(folder, 'seen');
      const opener = join(folder, 'xdg-open');
      writeFileSync(
        opener,
        `#!/bin/sh\nstat -c '%a' "$1" "$(dirname "$1")" >'${seen}'\necho "$@" >>'${seen}'\ncat "$1" >>'${seen}'\nkill -INT $PPID\n`,
      );
      chmodSync(opener, 0o755);
      const path = `${folder}${delimiter}${process.env.PATH}`;
      const { code, out } = await treadle(['desk', '--archive', join(folder, 'a.sqlite')], '', {
        PATH: path,
      });
      const [mode, folderMode, words, ...page] = readFileSync(seen, 'utf8').split('\n');
      expect({ code, out, mode, folderMode }).toEqual({ code: 0, out: '', mode: '600', folderMode: '700' });
      expect(words).not.toContain('#');
      expect(page.join('\n')).toMatch(/http:\/\/127\.0\.0\.1:\d+\/#[\w-]{43}/);
      expect(existsSync(dirname(words!))).toBe(false);
    },
  );

  it('shows the desk that an archive has already, by a file that only its owner can read', async () => {
    const archive = join(folder, 'one', 'archive.sqlite');
    const words = ['desk', '--no-open', '--archive', archive];
    const seen: string[] = [];
    const first = await treadleUntil(words, /#/, async () => {
      const { code, out, err } = await treadle(words);
      seen.push(out, err, `${code}`, (statSync(`${archive}.desk.lock`).mode & 0o777).toString(8));
    });
    expect(seen).toEqual([first.out, expect.stringContaining('open already'), '0', '600']);
    expect(existsSync(`${archive}.desk.lock`)).toBe(false);
  });

  it('takes over where a desk ended without a word, or something else stands in its file', async () => {
    const archive = join(folder, 'two.sqlite');
    const words = ['desk', '--no-open', '--archive', archive];
    for (const left of [`http://127.0.0.1:9/#${'a'.repeat(43)}`, 'http://example.org/#x', '']) {
      writeFileSync(`${archive}.desk.lock`, left);
      const { code, out, err } = await treadleUntil(words, /#/);
      expect({ code, err }).toEqual({ code: 0, err: '' });
      expect(out.trim()).not.toBe(left);
    }
  });

  it('prints the address where no browser can be opened', async () => {
    const { code, out, err } = await treadleUntil(
      ['desk', '--archive', join(folder, 'a.sqlite')],
      /#/,
      async () => {},
      { PATH: '/nowhere' },
    );
    expect(code).toBe(0);
    expect(err).toContain('open this address yourself');
    expect(out).toMatch(/#[\w-]{43}\n$/);
  });

  it('writes the page into a folder, and not over anything', async () => {
    const into = join(folder, 'page');
    expect(await treadle(['desk', '--static', into])).toMatchObject({ code: 0, err: '' });
    expect(readdirSync(into).sort()).toEqual(['core.js', 'desk.css', 'desk.js', 'index.html', 'picture.js']);
    const again = await treadle(['desk', '--static', into]);
    expect(again).toMatchObject({ code: 2, out: '' });
    expect(again.err).toContain('--force');
    expect(await treadle(['desk', '--static', into, '--force'])).toMatchObject({ code: 0, err: '' });
  });

  it('has a script of no more than 150 KB compressed, and makes no code of text', async () => {
    const into = join(folder, 'weighed');
    await treadle(['desk', '--static', into]);
    const script = readFileSync(join(into, 'desk.js'));
    expect(gzipSync(script).length).toBeLessThan(MOST_COMPRESSED_BYTES);
    const page = readFileSync(join(into, 'index.html'), 'utf8');
    expect(page).not.toMatch(/<script>|<style>|style=|onclick|https?:/);
  });
});
