import { counted } from '../../figures.js';
import type { NightTotals } from './night-rows.js';

/** What a night came to, in words. */
export function totalsText({
  prints,
  strips,
  wasted,
  underWay,
  lampMs,
  paperMs,
  cutShort,
}: NightTotals): string {
  const parts = [
    counted(prints, 'print'),
    counted(strips, 'test strip'),
    ...(wasted === 0 ? [] : [`${counted(wasted, 'sheet')} wasted`]),
    ...(underWay === 0 ? [] : [`${counted(underWay, 'sheet')} still under way`]),
    `${minutesText(paperMs)} of light on paper`,
    `lamp on for ${minutesText(lampMs)}`,
    ...(cutShort === 0 ? [] : [`${counted(cutShort, 'exposure')} cut short`]),
  ];
  return `${parts.join(', ')}.`;
}

function minutesText(ms: number): string {
  const seconds = Math.round(ms / 1000);
  const minutes = Math.floor(seconds / 60);
  return minutes === 0 ? `${seconds} s` : `${minutes} min ${seconds % 60} s`;
}
