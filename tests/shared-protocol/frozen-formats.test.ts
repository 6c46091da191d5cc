import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  changedFormats,
  describeFormats,
  type Formats,
  newFormats,
  type SchemaToHold,
  schemaToHold,
} from '../../shared-protocol/generate/frozen-formats.js';
import { projectRoot } from '../../shared-protocol/project.js';
import { choice, integer, text, u8, wordsByNumber } from '../../shared-protocol/wire-types.js';

const held = JSON.parse(
  readFileSync(join(projectRoot, 'shared-protocol/frozen-formats.json'), 'utf8'),
) as Formats;
const { settings, choices, messages, documents } = schemaToHold;

const changes = (schema: Partial<SchemaToHold>) =>
  changedFormats(held, describeFormats({ ...schemaToHold, ...schema }));
const withChoice = (name: string, words: readonly string[]) => ({
  choices: new Map([...choices, [name, words]]),
});
const withFields = (type: string, fields: Record<string, unknown>) => ({
  messages: {
    ...messages,
    [type]: { ...messages[type]!, fields: { ...messages[type]!.fields, ...fields } },
  } as SchemaToHold['messages'],
});
const lag = settings['lamp-lag-ms']!;

describe('what lies on flashes is held:', () => {
  it('the schema of today is what was held, no more and no less', () => {
    expect(changes({})).toEqual([]);
    expect(newFormats(held, describeFormats())).toEqual([]);
  });

  // A setting put in second once gave a lag of 80 for 120, and safe minutes of -1 for 7.
  it('a setting put in before others', () => {
    const after = Object.entries(settings).map(([name, setting]) => [
      name,
      setting.number === 0 ? setting : { ...setting, number: setting.number + 1 },
    ]);
    const shifted = { ...Object.fromEntries(after), 'paper-weight': { ...lag, number: 1 } };
    expect(changes({ settings: shifted })).toContain("setting/lamp-lag-ms was '2' and is '3'");
  });

  it('a setting that takes the number of another', () => {
    expect(() => wordsByNumber('settings', { metronome: 0, blackout: 0 })).toThrow(
      "settings: 'blackout' and 'metronome' have the same number 0",
    );
    expect(() => wordsByNumber('settings', { metronome: 0, blackout: 2 })).toThrow('1 is missing');
    expect(() => wordsByNumber('settings', { metronome: 1 })).toThrow('0 is missing');
    expect(wordsByNumber('settings', { metronome: 1, blackout: 0 })).toEqual(['blackout', 'metronome']);
  });

  it('a choice that is given the name of another', () => {
    expect(() => choice('Cover', { lid: 0 })).toThrow("the choice 'Cover' stands in the schema twice");
  });

  it('a setting that goes, or that can no longer have what was kept', () => {
    const { metronome: _metronome, ...others } = settings;
    expect(changes({ settings: others })).toContain('setting/metronome was 5 and is gone');
    expect(changes({ settings: { ...settings, 'lamp-lag-ms': { ...lag, max: 500 } } })).toEqual([
      "setting lamp-lag-ms/most was '1000' and is '500'",
    ]);
    expect(changes({ settings: { ...settings, 'lamp-lag-ms': { ...lag, max: 2000 } } })).toEqual([]);
  });

  // Focus light was read back as a strip.
  it('a kind of exposure put in before others', () => {
    const words = choices.get('ExposureKind')!;
    expect(changes(withChoice('ExposureKind', [words[0]!, 'flash', ...words.slice(1)]))).toContain(
      "choice ExposureKind/focus was '3' and is '4'",
    );
    expect(changes(withChoice('ExposureKind', [...words, 'flash']))).toEqual([]);
  });

  it('two members of a choice that swap their numbers', () => {
    expect(changes(withChoice('Cover', ['separate', 'cumulative']))).toEqual([
      "choice Cover/cumulative was '0' and is '1'",
      "choice Cover/separate was '1' and is '0'",
    ]);
  });

  it('a text of a recipe more, which would move its passes', () => {
    const words = choices.get('RecipeText')!;
    expect(changes(withChoice('RecipeText', [...words, 'toner']))).toEqual([
      "document recipe/texts was '3' and is '4'",
    ]);
  });

  // A recipe so read ended in words about plug and cable.
  it('a text that is narrowed in a message that is held', () => {
    const narrowed = changes(withFields('recipe-pass', { label: text(12, 60) }));
    expect(narrowed).toContainEqual(
      expect.stringMatching(/^message recipe-pass\/3 was 'label: text of 16 .* and is 'label: text of 12 /),
    );
  });

  it('a field more, or one that is wider, in a record of the log', () => {
    expect(changes(withFields('lens', { aperture: u8() }))).toContainEqual(
      expect.stringMatching(/^message lens\/4 is .*nothing may be added$/),
    );
    expect(changes(withFields('clock', { epochMs: integer(0, 1) }))).toContainEqual(
      expect.stringMatching(/^message clock\/4 was /),
    );
  });

  it('a kind of log entry, or of document, with another number', () => {
    const lens = { ...messages.lens!, entryKind: 14 };
    expect(changes({ messages: { ...messages, lens } })).toEqual(["log entry/lens was '5' and is '14'"]);
    const baths = { ...documents.baths!, number: 5 };
    expect(changes({ documents: { ...documents, baths } })).toEqual(["document/baths was '4' and is '5'"]);
  });

  it('a message that is held no longer, or is called otherwise without its former name', () => {
    const { lens, ...others } = messages;
    expect(changes({ messages: others })).toContain('log entry/lens was 5 and is gone');
    const renamed = { ...others, 'lens-check': { ...lens!, named: { 2: 'lens' } } };
    expect(changes({ messages: renamed })).toEqual([]);
  });

  it('but new settings, members, messages and documents may come, and wait to be held', () => {
    const schema = {
      ...schemaToHold,
      settings: { ...settings, 'paper-weight': { ...lag, number: 15 } },
      messages: { ...messages, weighed: { ...messages.lens!, named: {}, entryKind: 14 } },
      documents: { ...documents, papers: { number: 5, parts: ['weighed'] } },
    };
    expect(changedFormats(held, describeFormats(schema))).toEqual([]);
    const added = newFormats(held, describeFormats(schema));
    expect(added).toContain('setting/paper-weight');
    expect(added).toContain('log entry/weighed');
    expect(added).toContain('document papers/part 1');
  });
});
