import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { note, notesFolder, pinsHeader, tableOf } from './notes.js';

const drawing = note('wiring.svg');

const pins = [...readFileSync(pinsHeader, 'utf8').matchAll(/^#define (PIN_\w+) +(\d+)/gm)].map(
  ([, name, gpio]) => ({ name: name!, gpio: Number(gpio) }),
);

const labels = [
  ...drawing.matchAll(/<text class="pin[^"]*" data-pin="(\w+)"[^>]*>GPIO (\d+) [^<]+<\/text>/g),
].map(([, name, gpio]) => ({ name: name!, gpio: Number(gpio) }));

const byGpio = (one: { gpio: number }, other: { gpio: number }) => one.gpio - other.gpio;

describe('the wiring diagram', () => {
  it('labels every pin of the firmware with its number, once, and no other', () => {
    expect(pins.length).toBeGreaterThan(0);
    expect(labels.toSorted(byGpio)).toEqual(pins.toSorted(byGpio));
    expect(drawing.match(/GPIO \d/g)).toHaveLength(pins.length);
  });

  it('is black on white, so that a photocopy keeps all of it', () => {
    const colours = drawing.match(/#[0-9a-f]{3,6}\b(?=[;"])/gi);
    expect(new Set(colours)).toEqual(new Set(['#000', '#fff']));
  });

  it('has no letter below 3 mm of type on A4', () => {
    const [, mmWide] = /<svg[^>]* width="(\d+)mm"/.exec(drawing)!;
    const [, unitsWide] = /viewBox="0 0 (\d+) /.exec(drawing)!;
    const sizes = [...drawing.matchAll(/font-size: (\d+)px/g)].map(([, size]) => Number(size));
    expect(Number(mmWide)).toBe(297);
    expect((Math.min(...sizes) * Number(mmWide)) / Number(unitsWide)).toBeGreaterThanOrEqual(3);
  });

  it('is well-formed and draws, mostly paper with some ink', async () => {
    const { channels } = await sharp(join(notesFolder, 'wiring.svg')).flatten({ background: '#fff' }).stats();
    expect(channels[0]!.min).toBe(0);
    expect(channels[0]!.max).toBe(255);
    expect(channels[0]!.mean).toBeGreaterThan(200);
  });

  it('keeps the lamp off a floating pin and the safelight lit by a dead board, in the words too', () => {
    expect(note('pins.md')).toMatch(/`PIN_LAMP_RELAY` +\| out: high = lamp on; external pull-down/);
    expect(drawing).toContain('K1 make');
    expect(drawing).toContain('K2 break');
  });

  /** The firmware cannot: the expander powers up with all pins high (PCF8574 data sheet), and a light flashes on. */
  it("has the display board's own transistor taken out, and a step that shows that the light goes out", () => {
    const row = tableOf('wiring.md', 'What').find(([what]) => what === 'Display light')!;
    expect(row[1]).toContain('the transistor of the light, on P3');
    expect(note('first-power-up.md')).toMatch(/\*\*\d+\. The light goes out\.\*\*[^*]*display-light 0/);
  });
});
