/** Areas of paper as people write them, '20000cm2', '2m2' or '40 x 8x10in', against whole square centimetres. */

import { readPrintSize, SizeError } from '../print-size.js';
import { UnreadableText } from '../text/unreadable-text.js';

/** 1000 square metres: more than any tray has seen. */
const MOST_CM2 = 10_000_000;
const CM2_IN_M2 = 10_000;

export const areaPattern =
  '^\\s*(\\d{1,8}(\\.\\d{1,4})?\\s*(cm2|cm\u00b2|m2|m\u00b2)|\\d{1,5}\\s*[x\u00d7*]\\s*\\d.*[x\u00d7*].*)\\s*$';
const AREA = /^\s*(\d{1,8}(?:\.\d{1,4})?)\s*(cm|m)[2\u00b2]\s*$/;
const SHEETS = /^\s*(\d{1,5})\s*[x\u00d7*]\s*(\d.*[x\u00d7*].*)$/;

/**
 * Reads 1 cm2 to 1000 m2, or so many sheets of a size, each of whole square centimetres, as a board counts them.
 * @throws UnreadableText for anything else.
 */
export function readAreaCm2(text: string): number {
  const cm2 = Math.round(plainArea(text) ?? sheetsArea(text) ?? Number.NaN);
  if (Number.isNaN(cm2))
    throw new UnreadableText(`'${text}' is not an area; write it as 20000cm2, 2m2 or 40 x 8x10in`);
  if (cm2 < 1 || cm2 > MOST_CM2)
    throw new UnreadableText(`'${text}' is out of range; from 1cm2 to ${MOST_CM2 / CM2_IN_M2}m2 is possible`);
  return cm2;
}

function plainArea(text: string): number | undefined {
  const match = AREA.exec(text);
  return match === null ? undefined : Number(match[1]) * (match[2] === 'm' ? CM2_IN_M2 : 1);
}

function sheetsArea(text: string): number | undefined {
  const match = SHEETS.exec(text);
  if (match === null) return undefined;
  try {
    const { shortMm, longMm } = readPrintSize(match[2]!);
    return Number(match[1]) * Math.round((shortMm * longMm) / 100);
  } catch (error) {
    if (!(error instanceof SizeError)) throw error;
    throw new UnreadableText(error.message);
  }
}

/** 20640 -> '20640cm2'. */
export function formatAreaCm2(cm2: number): string {
  return `${cm2}cm2`;
}
