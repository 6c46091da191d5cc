import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { projectRoot } from '../../shared-protocol/project.js';
import { note, noteNames, notesFolder } from './notes.js';

const links = (name: string) => [...note(name).matchAll(/\]\(([^)#:]+)\)/g)].map(([, target]) => target!);

describe('the notes', () => {
  it.each(noteNames('.md'))('%s links to files that are there', (name) => {
    for (const target of links(name)) expect(existsSync(join(notesFolder, target)), target).toBe(true);
  });

  it('are all reached from the index', () => {
    const pages = noteNames('.md').filter((name) => name !== 'README.md');
    expect(links('README.md')).toEqual(expect.arrayContaining([...pages, 'wiring.svg', '99-treadle.rules']));
  });

  it('say at the door that no physical board has run this yet', () => {
    expect(note('README.md')).toContain('proven under emulation, not yet on a physical board');
    expect(note('wiring.svg')).toContain('Proven under emulation, not yet on a physical board');
  });
});

describe('the udev rule', () => {
  const rules = note('99-treadle.rules')
    .split('\n')
    .filter((line) => line !== '' && !line.startsWith('#'));
  const assignments = rules.flatMap((rule) => rule.split(', '));

  it('is made of keys, operators and quoted values', () => {
    for (const part of assignments) expect(part).toMatch(/^[A-Z]+(\{\w+\})?(==|!=|=|\+=)"[^"]*"$/);
  });

  it('jumps only to places that are there, each of them once and further down', () => {
    for (const part of assignments.filter((each) => each.startsWith('GOTO'))) {
      const from = rules.findIndex((rule) => rule.includes(part));
      const to = rules.indexOf(part.replace('GOTO', 'LABEL'));
      expect(to).toBeGreaterThan(from);
    }
  });

  it('knows the board by the numbers and the name that its firmware says over USB', () => {
    const descriptors = readFileSync(
      join(projectRoot, 'firmware', 'board', 'devices', 'usb_descriptors.c'),
      'utf8',
    );
    const [, vendor, product] = /VENDOR = 0x(\w{4}), PRODUCT = 0x(\w{4})/.exec(descriptors)!;
    const [, letters] = /manufacturer\[\] = \{\d+, TYPE_TEXT, ([^}]*)\}/.exec(descriptors)!;
    const name = [...letters!.matchAll(/'(.)'/g)].map(([, letter]) => letter).join('');
    const match = `ATTRS{idVendor}=="${vendor}", ATTRS{idProduct}=="${product}", ATTRS{manufacturer}=="${name}"`;
    expect(rules).toContain(`SUBSYSTEMS=="usb", ${match}, GOTO="treadle_ours"`);
  });

  it('keeps ModemManager off and lets a group in', () => {
    expect(assignments).toEqual(
      expect.arrayContaining(['ENV{ID_MM_DEVICE_IGNORE}="1"', 'GROUP="dialout"', 'MODE="0660"']),
    );
  });
});
