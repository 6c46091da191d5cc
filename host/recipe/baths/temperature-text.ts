/** Temperatures as people write them, '20.5C' or '68F', against tenths of a degree Celsius. */
import { limits } from '../../../shared-protocol/limits.js';
import { UnreadableText } from '../text/unreadable-text.js';

export const temperaturePattern = '^\\s*\\d{1,3}([.,]\\d)?\\s*\u00b0?\\s*[CcFf]\\s*$';
const TEMPERATURE = /^\s*(\d{1,3})(?:[.,](\d))?\s*\u00b0?\s*([CcFf])\s*$/;

/**
 * Reads 5C to 45C, or the same in Fahrenheit, to the nearest tenth of a degree Celsius.
 * @throws UnreadableText for anything else.
 */
export function readTemperatureC10(text: string): number {
  const c10 = anyTemperatureC10(text);
  if (c10 < limits.coldestC10 || c10 > limits.warmestC10)
    throw new UnreadableText(
      `'${text}' is out of range; from ${formatDegreesC(limits.coldestC10)} to ${formatDegreesC(limits.warmestC10)} is possible`,
    );
  return c10;
}

/** The same, however cold or warm. */
export function anyTemperatureC10(text: string): number {
  const match = TEMPERATURE.exec(text);
  if (match === null)
    throw new UnreadableText(`'${text}' is not a temperature; write it as 20C, 20.5C or 68F`);
  const tenths = Number(match[1]) * 10 + Number(match[2] ?? 0);
  return match[3]!.toUpperCase() === 'C' ? tenths : Math.round(((tenths - 320) * 5) / 9);
}

/** 205 -> '20.5C', 200 -> '20C'. */
export function formatDegreesC(c10: number): string {
  return `${c10 / 10}C`;
}
