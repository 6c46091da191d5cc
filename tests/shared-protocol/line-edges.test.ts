import { crc32 } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { decodeLine, encodeLine, limits, type Message } from '../../shared-protocol/index.js';

/** A line around whatever stands in it, with the checksum of zlib. */
function sealed(body: string): string {
  const crc = crc32(Buffer.from(body, 'latin1')).toString(16).padStart(8, '0');
  return `${body},"${crc}"]`;
}

const fault = (line: string) => {
  const decoded = decodeLine(line);
  return decoded.ok ? 'none' : decoded.fault;
};

describe('the number of a line', () => {
  it.each([0, 1, 65_535])('can be %i', (id) => {
    const line = encodeLine({ type: 'ok', id });
    expect(decodeLine(line.trim())).toEqual({ ok: true, message: { type: 'ok', id } });
  });

  it.each([-1, 65_536, 0.5])('cannot be %d', (id) => {
    expect(() => encodeLine({ type: 'ok', id })).toThrow(/whole number from 0 to 65535/);
    expect(decodeLine(sealed(`["ok",${id}`))).toMatchObject({ fault: 'bad-line', id: 0 });
  });

  it('is told where more of the line could be read than that, and is 0 where it could not', () => {
    expect(decodeLine(sealed('["polished",7,1'))).toMatchObject({ fault: 'unknown-type', id: 7 });
    expect(decodeLine(sealed('["ok",7,1'))).toMatchObject({ fault: 'bad-field', id: 7 });
    const wrong = sealed('["ok",7').replace('ok', 'ko');
    for (const line of ['', 'ok', wrong, sealed('["ok",7,,'), 'x'.repeat(300)])
      expect(decodeLine(line)).toMatchObject({ ok: false, id: 0 });
  });
});

describe('a line', () => {
  it('as long as may be is read, and not one that is longer', () => {
    const room = limits.lineBytes - 1 - sealed('["polished",7,""').length;
    for (const [more, found] of [
      [0, 'unknown-type'],
      [1, 'bad-line'],
    ] as const) {
      const line = sealed(`["polished",7,"${'x'.repeat(room + more)}"`);
      expect([line.length + 1, fault(line)]).toEqual([limits.lineBytes + more, found]);
    }
  });

  it('of any other form is none, whichever of its signs is another', () => {
    const line = sealed('["ok",7');
    const { length } = line;
    for (const place of [0, 1, length - 12, length - 11, length - 2, length - 1]) {
      const other = `${line.slice(0, place)}x${line.slice(place + 1)}`;
      expect([place, fault(other)]).toEqual([place, 'bad-line']);
    }
  });

  it('has eight digits of 0 to 9 and a to f for its checksum, and nothing that lies beside them', () => {
    // Both checksums have an a; a colon follows the 9 and would count as ten.
    const id = [...Array(1000).keys()].find((one) => /,"\w*a\w*"\]$/.test(sealed(`["ok",${one}`)))!;
    const line = sealed(`["ok",${id}`);
    const [before, after] = [line.slice(0, -10), line.slice(-10)];
    expect(fault(line)).toBe('none');
    for (const other of [':', 'A', '`', 'g', '/', ' '])
      expect([other, fault(before + after.replace('a', other))]).toEqual([other, 'bad-line']);
    expect(fault(before + after.replace('a', 'b'))).toBe('bad-crc');
  });

  it('has only the signs from space to tilde', () => {
    for (const [sign, found] of [
      [' ', 'unknown-type'],
      ['~', 'unknown-type'],
      ['\x1f', 'bad-line'],
      ['\x7f', 'bad-line'],
      ['\xe4', 'bad-line'],
    ] as const)
      expect([sign, fault(sealed(`["polished",7,"${sign}"`))]).toEqual([sign, found]);
    // What JSON takes between its elements: RFC 8259, section 2.
    for (const space of ['\t', '\n', '\r']) expect(fault(sealed(`["ok",${space}7`))).toBe('bad-line');
  });

  it('that the schema does not allow says which field', () => {
    const decoded = decodeLine(sealed('["setting",7,"tone-volume","loud"'));
    expect(decoded).toMatchObject({
      fault: 'bad-field',
      why: expect.stringMatching(/number.*\n.*at value$/),
    });
    expect(() => encodeLine({ type: 'polished', id: 1 } as unknown as Message)).toThrow(
      /no message 'polished'/,
    );
  });
});
