import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { coreSource, note, notesFolder, padPulls, pinsHeader, tableOf, tableUnder } from './notes.js';

const drawing = note('wiring.svg');
const details = note('wiring-details.svg');
/** A panel of the details is drawn once for both relays. */
const DRIVERS = 2;

const pins = [...readFileSync(pinsHeader, 'utf8').matchAll(/^#define (PIN_\w+) +(\d+)/gm)].map(
  ([, name, gpio]) => ({ name: name!, gpio: Number(gpio) }),
);

const labelsOf = (text: string) =>
  [...text.matchAll(/<text class="pin[^"]*" data-pin="(\w+)"[^>]*>GPIO (\d+) [^<]+<\/text>/g)].map(
    ([, name, gpio]) => ({ name: name!, gpio: Number(gpio) }),
  );
const labels = labelsOf(drawing);

const byGpio = (one: { gpio: number }, other: { gpio: number }) => one.gpio - other.gpio;

describe('the wiring diagram', () => {
  it('labels every pin of the firmware with its number, once, and no other', () => {
    expect(pins.length).toBeGreaterThan(0);
    expect(labels.toSorted(byGpio)).toEqual(pins.toSorted(byGpio));
    expect(drawing.match(/GPIO \d/g)).toHaveLength(pins.length);
  });

  it('has in its details only pins of the firmware, with their numbers', () => {
    expect(labelsOf(details).map(({ name }) => name)).toEqual([
      'PIN_LAMP_RELAY',
      'PIN_SAFELIGHT_RELAY',
      'PIN_DISPLAY_LIGHT',
    ]);
    for (const label of labelsOf(details)) expect(pins).toContainEqual(label);
    expect(details.match(/GPIO \d+ \w/g)).toHaveLength(labelsOf(details).length + 1);
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

describe.each(['wiring.svg', 'wiring-details.svg'])('the drawing %s', (name) => {
  const text = note(name);

  it('is black on white, so that a photocopy keeps all of it', () => {
    const colours = text.match(/#[0-9a-f]{3,6}\b(?=[;"])/gi);
    expect(new Set(colours)).toEqual(new Set(['#000', '#fff']));
  });

  it('has no letter below 3 mm of type on A4', () => {
    const [, mmWide] = /<svg[^>]* width="(\d+)mm"/.exec(text)!;
    const [, unitsWide] = /viewBox="0 0 (\d+) /.exec(text)!;
    const sizes = [...text.matchAll(/font-size: (\d+)px/g)].map(([, size]) => Number(size));
    expect(Number(mmWide)).toBe(297);
    expect((Math.min(...sizes) * Number(mmWide)) / Number(unitsWide)).toBeGreaterThanOrEqual(3);
  });

  it('is well-formed and draws, mostly paper with some ink', async () => {
    const { channels } = await sharp(join(notesFolder, name)).flatten({ background: '#fff' }).stats();
    expect(channels[0]!.min).toBe(0);
    expect(channels[0]!.max).toBe(255);
    expect(channels[0]!.mean).toBeGreaterThan(200);
  });
});

describe('the parts list', () => {
  const rows = ['Control box', 'Pedal', 'Mains box'].flatMap((title) => tableUnder('parts.md', title));
  const howMany = (part: string) => Number(rows.find(([name]) => name!.startsWith(part))![1]);

  /** How often a value stands in the drawing and its details; what is drawn once for two drivers counts twice. */
  function drawn(value: string): number {
    const texts = (text: string) =>
      [...text.matchAll(/<text[^>]*>([^<]+)<\/text>/g)].map(([, words]) => words!);
    const [before, driver, after] = details.split(/<!-- =+ (?:driver|display's light) =+ -->/);
    const once = [drawing, before!, after!].flatMap(texts);
    const [whole, each] = [once, texts(driver!)].map(
      (words) =>
        words.filter((word) => word === value).length +
        2 * words.filter((word) => word === `${value} each`).length,
    );
    return whole! + DRIVERS * each!;
  }

  it('has as many resistors of each value as the drawings', () => {
    expect(drawn('1 kΩ')).toBe(9);
    for (const value of ['1 kΩ', '10 kΩ', '470 kΩ'])
      expect(howMany(`Resistors ${value}`), value).toBe(drawn(value));
    expect(howMany('Resistor 2.2 kΩ')).toBe(drawn('2.2 kΩ'));
  });

  it('names every part that has a letter and a number in the drawings', () => {
    const named = new Set(
      [...`${drawing}${details}`.matchAll(/(?<![\w#])[CDFKQS]\d\b/g)].map(([part]) => part),
    );
    expect([...named].toSorted()).toEqual([
      'C1',
      'D1',
      'D2',
      'F1',
      'F2',
      'F3',
      'K1',
      'K2',
      'Q1',
      'Q2',
      'Q3',
      'S1',
    ]);
    const listed = rows.map(([name]) => name).join('\n');
    for (const part of named) expect(listed).toMatch(new RegExp(`\\b${part}\\b`));
  });

  it('has the relays, their diodes and their drivers in equal numbers', () => {
    expect(howMany('Diode, 1 A, 50 V')).toBe(DRIVERS);
    expect(howMany('MOSFET, P-channel')).toBe(DRIVERS);
    expect(howMany('MOSFET, N-channel')).toBe(DRIVERS + 1);
    expect(howMany('Schottky diode')).toBe(DRIVERS + 1);
  });
});

describe('the words', () => {
  /** The row of wiring.md that says how a pin is wired. */
  const rowOf: Record<string, string> = {
    PIN_UART0_TX: 'Line, by UART',
    PIN_UART0_RX: 'Line, by UART',
    PIN_LAMP_RELAY: 'Lamp relay',
    PIN_SAFELIGHT_RELAY: 'Safelight relay',
    PIN_DISPLAY_SDA: 'Display data',
    PIN_DISPLAY_SCL: 'Display data',
    PIN_PEDAL: 'Pedal',
    PIN_KNOB_A: 'Knob',
    PIN_KNOB_B: 'Knob',
    PIN_KNOB_PUSH: 'Knob',
    PIN_TONE: 'Tone',
    PIN_DISPLAY_LIGHT: 'Display light',
  };
  const numbersIn = (text: string) =>
    [...text.matchAll(/GPIO (\d+(?:, \d+\b(?! [nk]))*(?: and \d+)?)/g)].flatMap(([, list]) =>
      list!.match(/\d+/g)!.map(Number),
    );

  it('wire each pin of the firmware by its number, in its row, and no other', () => {
    const rows = new Map(
      tableOf('wiring.md', 'What').map(([what, how]) => [what!, new Set(numbersIn(how!))]),
    );
    const wanted = new Map([...rows.keys()].map((what) => [what, new Set<number>()]));
    for (const { name, gpio } of pins) wanted.get(rowOf[name]!)!.add(gpio);
    expect(rows).toEqual(wanted);
  });

  it('of the first power-up and the parts list speak of no pin that the firmware has not', () => {
    const gpios = pins.map(({ gpio }) => gpio);
    for (const gpio of numbersIn(note('first-power-up.md'))) expect(gpios).toContain(gpio);
    expect(numbersIn(note('first-power-up.md')).length).toBeGreaterThan(3);
    const [, first, last, more] = /GPIO (\d+)-(\d+) and (\d+) brought out/
      .exec(note('parts.md'))!
      .map(Number);
    for (const gpio of gpios)
      expect((gpio >= first! && gpio <= last!) || gpio === more, `GPIO ${gpio}`).toBe(true);
  });
});

describe('the pulls in the chip', () => {
  it('are in the words what the firmware sets, pin by pin', () => {
    const pulls = padPulls();
    expect(pulls.size).toBe(pins.length);
    const said = tableOf('wiring.md', 'Pin').map(([pin, pull]) => [pin, pull]);
    expect(said).toEqual(pins.toSorted(byGpio).map(({ name, gpio }) => [`GPIO ${gpio}`, pulls.get(name)]));
  });
});

describe('the link', () => {
  const order = /in this order, in plug and in cable: \*\*([^*]+)\*\*/
    .exec(note('wiring.md'))![1]!
    .split(', ');
  const faults = tableOf('wiring.md', 'Fault');
  const lampAt = (fault: string) => faults.find(([name]) => name === fault)?.[1];

  it('has no wire with a voltage of its own, and a ground beside each wire that gets one', () => {
    expect(order).toEqual(['lamp', 'GND', 'GND', 'safelight']);
    expect(note('wiring.md').replace(/\s+/g, ' ')).toContain(
      'a link of four low-voltage wires: lamp, GND, GND, safelight.',
    );
  });

  it('is told for any two of its wires crushed together, and for each of them cut', () => {
    const pairs = order.flatMap((one, at) =>
      order.slice(at + 1).map((other) => `${one} and ${other} crushed`),
    );
    const told = (pair: string) => lampAt(pair) ?? lampAt(pair.replace(/(\w+) and (\w+)/, '$2 and $1'));
    for (const pair of pairs) expect(told(pair), pair).toBeDefined();
    for (const cut of ['lamp wire', 'GND of the lamp', 'GND of the safelight', 'safelight wire'])
      expect(lampAt(`${cut} cut`), cut).toBeDefined();
  });

  it('leaves the lamp off or to the board in every fault, or says in bold that it does not', () => {
    for (const [fault, lamp] of faults) expect(lamp, fault).toMatch(/^(off|works|\*\*)/);
    const lit = faults.filter(([, lamp]) => lamp!.startsWith('**')).map(([fault]) => fault);
    expect(lit).toEqual([
      'lamp and safelight crushed',
      "pedal's two wires crushed",
      'Q1 or Q2 broken through, or K1 welded',
    ]);
  });

  it('says how long a pedal that is crushed can light the lamp, as the core has it', () => {
    const [, seconds] = /STUCK_US: i64 = ([\d_]+)_000_000;/.exec(coreSource('pedal/pedal.ts'))!;
    expect(lampAt("pedal's two wires crushed")).toContain(`${seconds} s at most`);
  });
});
