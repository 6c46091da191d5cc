import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatSetting, readSetting, settingBounds } from '../../../host/recipe/text/setting-text.js';
import { UnreadableText } from '../../../host/recipe/text/unreadable-text.js';
import { type SettingName, settingAllows, settings } from '../../../shared-protocol/settings.js';

const names = Object.keys(settings) as SettingName[];

describe('a setting as somebody types it', () => {
  it.each<[SettingName, string, number]>([
    ['lamp-lag-ms', '60ms', 60],
    ['lamp-lag-ms', '60', 60],
    ['lamp-lag-ms', '0.06s', 60],
    ['lamp-lag-ms', '-20 ms', -20],
    ['lamp-lag-ms', '0ms', 0],
    ['focus-limit-s', '2min', 120],
    ['focus-limit-s', '1m30s', 90],
    ['tone-volume', '60%', 60],
    ['tone-volume', '60 %', 60],
    ['lens-check', 'on', 1],
    ['lens-check', 'Off', 0],
    ['lens-check', '0', 0],
    ['knob-step', '6 clicks a stop', 6],
    // 8 x 10 inch: 20.32 x 25.4 cm, 516.1 square centimetres.
    ['sheet-cm2', '8x10in', 516],
    ['sheet-cm2', '18x24cm', 432],
    ['sheet-cm2', '432 cm2', 432],
    ['safe-minutes', '7 min', 7],
    ['safe-minutes', 'never', -1],
    // C = (F - 32) x 5 / 9, the definition of the Fahrenheit scale.
    ['tray-c10', '68F', 200],
    ['tray-c10', '20.5 C', 205],
    ['tray-c10', '20', 200],
    ['tray-c10', 'off', 0],
  ])('%s %j is %i', (name, text, value) => {
    expect(readSetting(name, text)).toBe(value);
  });

  it.each<[SettingName, string, RegExp]>([
    ['lamp-lag-ms', '60%', /'60%' is not possible; -500 to 1000 ms/],
    ['lamp-lag-ms', '0.5ms', /-500 to 1000 ms/],
    ['focus-limit-s', '2', /10 to 900 s/],
    ['tone-volume', '101%', /0 to 100 %/],
    ['tone-volume', '%', /0 to 100 %/],
    ['lens-check', '2', /on or off/],
    ['knob-step', '5', /0, 3, 6, 12 or 24/],
    ['sheet-cm2', '8x10', /8x10in, 8x10cm, 8x10mm/],
    ['safe-minutes', 'on', /-1 to 60 min/],
    ['tray-c10', '120F', /off, or 5C to 45C/],
    ['tray-c10', 'warm', /20C, 20.5C or 68F/],
  ])('%s %j is refused with what is possible', (name, text, words) => {
    expect(() => readSetting(name, text)).toThrow(UnreadableText);
    expect(() => readSetting(name, text)).toThrow(words);
  });

  it.each<SettingName>([
    ...(['lens-check', 'pause-for-dodges', 'metronome', 'blackout', 'safelight-follows'] as const),
    ...(['bath-follows', 'fibre-paper', 'confirm-filter'] as const),
  ])('%s is on or off', (name) => {
    expect([settingBounds(name), formatSetting(name, 0), formatSetting(name, 1)]).toEqual([
      'on or off',
      'off',
      'on',
    ]);
  });

  // The time on the knob could be set to 'never', and was then a minute behind UTC.
  it('is never only where that is a value of its own', () => {
    expect(formatSetting('zone-minutes', -1)).toBe('-1 min');
    expect(() => readSetting('zone-minutes', 'never')).toThrow(/-720 to 840 min/);
  });

  it('is read again as it is shown, every value of every setting', () => {
    const shown = fc.constantFrom(...names).chain((name) => {
      const { min, max } = settings[name];
      return fc.record({ name: fc.constant(name), value: fc.integer({ min, max }) });
    });
    fc.assert(
      fc.property(shown, ({ name, value }) => {
        fc.pre(settingAllows(name, value));
        expect(readSetting(name, formatSetting(name, value))).toBe(value);
        expect(settingBounds(name)).not.toBe('');
      }),
    );
  });
});
