import { UnreadableText } from '../recipe/text/unreadable-text.js';

/** Of a tablet's first step, film base alone: common practice, no source. */
const BASE_DENSITY = 0.05;
const STEPS = { min: 5, max: 41 } as const;

/** The steps of a tablet: as many as even, such as 21x0.15, or each one's density. */
export function readTablet(text: string): number[] {
  const even = /^(\d{1,2})x(0\.\d{1,3})$/.exec(text.trim());
  const densities =
    even === null
      ? text.split(',').map((each) => (/^ *\d(\.\d{1,3})? *$/.test(each) ? Number(each) : Number.NaN))
      : Array.from({ length: Number(even[1]) }, (_, at) => BASE_DENSITY + at * Number(even[2]));
  const isRising = densities.every((density, at) => at === 0 || density > densities[at - 1]!);
  if (isRising && densities.length >= STEPS.min && densities.length <= STEPS.max) return densities;
  throw new UnreadableText(
    `'${text}' is not a step tablet; write its steps as 21x0.15, or ${STEPS.min} to ${STEPS.max} rising densities with commas`,
  );
}

/** What light each patch of the tablet's print had, the lightest patch first: that of the densest step. */
export function tabletDoses(exposureMs: number, densities: readonly number[]): number[] {
  return densities.map((density) => exposureMs * 10 ** -density).reverse();
}
