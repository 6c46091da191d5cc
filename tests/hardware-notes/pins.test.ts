import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { pins } from '../../host/cli/checkup-advice.js';
import { notesFolder, pinsHeader } from './notes.js';

const script = join('hardware-notes', 'write-pins.mjs');

let root: string;

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'treadle-pins-'));
  mkdirSync(join(root, 'firmware', 'board', 'rp2040', 'port'), { recursive: true });
  cpSync(pinsHeader, join(root, 'firmware', 'board', 'rp2040', 'port', 'pins.h'));
  for (const name of ['write-pins.mjs', 'pins.md']) {
    cpSync(join(notesFolder, name), join(root, 'hardware-notes', name));
  }
});

afterEach(() => rmSync(root, { recursive: true }));

/** What the script says when it fails, or nothing when it does not. */
function complaint(...options: string[]): string {
  try {
    execFileSync(process.execPath, [join(root, script), ...options], { stdio: 'pipe' });
    return '';
  } catch (error) {
    return String((error as { stderr: Buffer }).stderr);
  }
}

function rewriteHeader(change: (text: string) => string): void {
  const header = join(root, 'firmware', 'board', 'rp2040', 'port', 'pins.h');
  writeFileSync(header, change(readFileSync(header, 'utf8')));
}

describe("the pins in the checkup's advice", () => {
  it('are those of the header of the firmware', () => {
    const header = readFileSync(pinsHeader, 'utf8');
    for (const [name, gpio] of Object.entries(pins)) {
      const define = `PIN_${name.replace(/[A-Z]/g, '_$&').toUpperCase()}`;
      expect(header, define).toMatch(new RegExp(`^#define ${define} ${gpio} `, 'm'));
    }
  });
});

describe('the pin table of the notes', () => {
  it('is what the header of the firmware says today', () => {
    expect(complaint('--check')).toBe('');
  });

  it('is called out of date once a pin moves, with what to do, and is in order after that', () => {
    rewriteHeader((text) => text.replace(/PIN_PEDAL +6/, 'PIN_PEDAL 26'));
    expect(complaint('--check')).toContain('run: node hardware-notes/write-pins.mjs');
    expect(complaint()).toBe('');
    expect(complaint('--check')).toBe('');
    expect(readFileSync(join(root, 'hardware-notes', 'pins.md'), 'utf8')).toMatch(/\| +26 \| `PIN_PEDAL`/);
  });

  it('is not written from a line that has no meaning beside it, a pin given twice, or one the chip has not', () => {
    rewriteHeader((text) => `${text}#define PIN_BARE 20\n`);
    expect(complaint()).toContain('found "#define PIN_BARE 20"');
    rewriteHeader((text) => text.replace('PIN_BARE 20', 'PIN_TWIN 2 /* out: twin */'));
    expect(complaint()).toContain('PIN_LAMP_RELAY and PIN_TWIN both claim GPIO 2');
    rewriteHeader((text) => text.replace('PIN_TWIN 2 ', 'PIN_FAR 30 '));
    expect(complaint()).toContain('PIN_FAR is GPIO 30; the chip has 0 to 29');
  });

  it('says where the script looked when the header is gone', () => {
    rmSync(dirname(join(root, 'firmware', 'board', 'rp2040', 'port', 'pins.h')), { recursive: true });
    expect(complaint('--check')).toContain('pins.h');
  });
});
