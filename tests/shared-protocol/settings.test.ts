import { describe, expect, it } from 'vitest';
import { limits } from '../../shared-protocol/limits.js';
import {
  type Setting,
  settingAllows,
  settingNames,
  settingRange,
  settings,
} from '../../shared-protocol/schema.js';

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

  it('that are a choice have the least and the most of it for their range', () => {
    const choices = Object.values<Setting>(settings).filter(({ values }) => values !== undefined);
    expect(choices.map(({ min, max }) => [min, max])).toEqual(
      choices.map(({ values = [] }) => [Math.min(...values), Math.max(...values)]),
    );
  });

  it('in per cent go from nothing to the whole', () => {
    const shares = Object.values<Setting>(settings).filter(({ unit }) => unit === '%');
    expect(shares.length).toBeGreaterThan(0);
    for (const { min, max } of shares) expect([min, max]).toEqual([0, 100]);
  });

  // IANA time zone database: Etc/GMT+12 is furthest behind UTC (its sign is the other way round), Etc/GMT-14 furthest ahead.
  it('of the clock take any zone of the world, and no more', () => {
    const minutesAhead = (zone: string, atMs: number) => {
      const format = new Intl.DateTimeFormat('en', { timeZone: zone, timeZoneName: 'longOffset' });
      const name = format.formatToParts(atMs).find(({ type }) => type === 'timeZoneName')!.value;
      const [, sign, hours = 0, minutes = 0] = /^GMT(?:([+-])(\d\d):(\d\d))?$/.exec(name)!;
      return (Number(hours) * 60 + Number(minutes)) * (sign === '-' ? -1 : 1);
    };
    const zones = [...Intl.supportedValuesOf('timeZone'), 'Etc/GMT+12', 'Etc/GMT-14'];
    const days = [Date.UTC(2027, 0, 1), Date.UTC(2027, 6, 1)];
    const all = zones.flatMap((zone) => days.map((atMs) => minutesAhead(zone, atMs)));
    const { min, max } = settings['zone-minutes'];
    expect([Math.min(...all), Math.max(...all)]).toEqual([min, max]);
  });

  it('of the tray go as far as a time by temperature can', () => {
    expect(settings['tray-c10'].max).toBe(limits.warmestC10);
    expect(limits.coldestC10).toBeGreaterThan(settings['tray-c10'].min);
  });
});
