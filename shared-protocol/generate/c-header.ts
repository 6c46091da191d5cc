import { limits } from '../limits.js';
import { linkFault, startCause } from '../schema.js';
import { constant } from './names.js';

/** What the board layer shares with the core: limits, and the numbers of start causes and link faults. */
export function writeCHeader(): string {
  const lines = [
    '/* Written by shared-protocol/generate from shared-protocol/schema.ts; not for editing. */',
    '#ifndef TREADLE_LIMITS_H',
    '#define TREADLE_LIMITS_H',
  ];
  for (const [name, value] of Object.entries(limits))
    lines.push(...define(`TREADLE_${constant(name)}`, value, name === 'storageBytes'));
  for (const [prefix, { options }] of Object.entries({ START_CAUSE: startCause, LINK_FAULT: linkFault })) {
    options.forEach((option, at) => {
      lines.push(`#define ${prefix}_${constant(option)} ${at}`);
    });
  }
  lines.push('#endif');
  return `${lines.join('\n')}\n`;
}

/** One that a board's build may have settled before. */
function define(name: string, value: number, isOfBoard: boolean): string[] {
  const line = `#define ${name} ${value}`;
  return isOfBoard ? [`#ifndef ${name}`, line, '#endif'] : [line];
}
