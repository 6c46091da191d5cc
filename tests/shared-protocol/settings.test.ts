import { describe, expect, it } from 'vitest';
import { settingAllows, settingNames, settingRange, settings } from '../../shared-protocol/schema.js';

describe('settings', () => {
  it('begin with a value that they can have', () => {
    for (const name of settingNames) expect(settingAllows(name, settings[name].initial), name).toBe(true);
  });

  it('can have the whole numbers of their range, and no others', () => {
    const values = [-501, -500, 0.5, 1000, 1001, Number.NaN];
    expect(values.map((value) => settingAllows('lamp-lag-ms', value))).toEqual([
      ...[false, true, false, true, false, false],
    ]);
    expect(settingRange('lamp-lag-ms')).toBe('-500 to 1000');
  });

  it('that are a choice can have the values that are named', () => {
    const few = Array.from({ length: 26 }, (_, value) => value).filter((value) =>
      settingAllows('knob-step', value),
    );
    expect(few).toEqual([0, 3, 6, 12, 24]);
    expect(settingRange('knob-step')).toBe('0, 3, 6, 12 or 24');
  });
});
