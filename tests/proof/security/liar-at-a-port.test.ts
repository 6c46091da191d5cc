import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type OfferedPort, offerPort } from '../../../host/board/sim/pty.js';
import { projectRoot } from '../../../shared-protocol/project.js';
import { lens, ScriptedPeer } from '../../host/board/link/scripted-peer.js';
import { treadle } from '../../host/cli/treadle.js';

const demoRecipe = `${projectRoot}/host/evening/boathouse.json`;

let peer: ScriptedPeer;
let port: OfferedPort;
let folder: string;

beforeAll(async () => {
  peer = new ScriptedPeer();
  port = await offerPort(peer.laptop);
  folder = mkdtempSync(join(tmpdir(), 'treadle-liar-'));
});
afterAll(() => {
  port.close();
  rmSync(folder, { recursive: true });
});

const usual = ['hello', 'set-clock', 'ping'];

/** What the command line makes of a board that says this to everything but hello, clock and ping. */
async function ran(words: readonly string[], lie: NonNullable<ReturnType<ScriptedPeer['answer']>>) {
  peer.answer = ({ type }) => (usual.includes(type) ? undefined : lie);
  const came = await treadle([...words, '--port', port.path]);
  expect(came.err, words[0]!).not.toMatch(/\n {4}at |should not have/);
  return came;
}

// Windows has no pseudo-terminals.
describe.skipIf(process.platform === 'win32')('a liar at a real port', () => {
  const archive = () => ['--archive', join(folder, 'archive.sqlite')];

  it.each([
    ['send', () => ['send', demoRecipe, ...archive()]],
    ['remove', () => ['remove', 'jetty']],
    ['save', () => ['save', 'jetty']],
    ['recipes', () => ['recipes']],
    ['settings set', () => ['settings', 'set', 'tone-volume', '30']],
    ['info', () => ['info']],
    ['baths', () => ['baths']],
    ['diagnose', () => ['diagnose', '--questions', '1']],
  ] as const)('is told in words: %s', async (_, words) => {
    const came = await ran(words(), [{ type: 'collected', nextSeq: 1, endSeq: 1 }]);
    expect(came).toMatchObject({ code: 1, out: '' });
    expect(came.err).toMatch(/^treadle: what is at .* does not answer as a board does: asked '/);
  });

  it('is told when its log has no end; nothing false is kept, and it is not told to forget', async () => {
    peer.log = [lens(1), lens(2)];
    const came = await ran(
      ['collect', ...archive()],
      [{ type: 'collected', nextSeq: 1, endSeq: 0xffff_ffff }],
    );
    expect(came).toMatchObject({ code: 1, out: '' });
    expect(came.err).toContain('more than fit');
    expect(peer.types()).not.toContain('forget');
    if (readdirSync(folder).length === 0) return;
    expect((await treadle(['nights', '--json', ...archive()])).out).toBe('');
  });
});
