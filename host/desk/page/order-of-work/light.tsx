import { seconds } from '../../../figures.js';

/** How long the light falls, as the core has it; nothing while something cannot be printed. */
export function Light({ doseMs }: { readonly doseMs: number | undefined }) {
  return <span class="light">{doseMs === undefined ? '' : seconds(doseMs)}</span>;
}
