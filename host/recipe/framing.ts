import { z } from 'zod';

export const framingLimits = {
  /** A film that lies this crooked is better laid in again. */
  turnDegrees: 45,
  /** Two blades that face each other leave a tenth of the scan between them. */
  bladesPercent: 90,
} as const;

const blade = () => z.number().min(0).max(framingLimits.bladesPercent).default(0);

/**
 * How a scan comes to lie in the easel's frame: mirrored, then turned clockwise by quarters, then by degrees about its
 * middle; then each blade reaches in over it, in per cent of the side that it moves along.
 */
export const framingSchema = z
  .strictObject({
    scanIs: z.enum(['negative', 'positive']).default('negative'),
    mirrored: z.boolean().default(false),
    quarterTurns: z.int().min(0).max(3).default(0),
    turnDegrees: z.number().min(-framingLimits.turnDegrees).max(framingLimits.turnDegrees).default(0),
    leftPercent: blade(),
    topPercent: blade(),
    rightPercent: blade(),
    bottomPercent: blade(),
  })
  .refine(bladesLeaveRoom, {
    error: `two blades that face each other may reach in by ${framingLimits.bladesPercent} per cent together; draw one back`,
  });

export type Framing = z.output<typeof framingSchema>;

export const noFraming: Framing = {
  scanIs: 'negative',
  mirrored: false,
  quarterTurns: 0,
  turnDegrees: 0,
  leftPercent: 0,
  topPercent: 0,
  rightPercent: 0,
  bottomPercent: 0,
};

function bladesLeaveRoom(
  framing: Record<'leftPercent' | 'topPercent' | 'rightPercent' | 'bottomPercent', number>,
) {
  const { leftPercent, topPercent, rightPercent, bottomPercent } = framing;
  return Math.max(leftPercent + rightPercent, topPercent + bottomPercent) <= framingLimits.bladesPercent;
}

/** One thing of it otherwise; not there where it does nothing any more, so that a file has no empty framing. */
export function reframed(before: Framing | undefined, change: Partial<Framing>): Framing | undefined {
  const framing = { ...noFraming, ...before, ...change };
  return framingWords(framing) === framingWords(undefined) ? undefined : framing;
}

/** In a printer's words, such as 'mirrored, blades 5/0/3/0 %': left, top, right, bottom. */
export function framingWords(framing: Framing = noFraming): string {
  const { scanIs, mirrored, quarterTurns, turnDegrees } = framing;
  const blades = [framing.leftPercent, framing.topPercent, framing.rightPercent, framing.bottomPercent];
  const words = [
    ...(scanIs === 'positive' ? ['positive scan'] : []),
    ...(mirrored ? ['mirrored'] : []),
    ...(quarterTurns > 0 ? [`${quarterTurns} quarter turn${quarterTurns > 1 ? 's' : ''}`] : []),
    ...(turnDegrees !== 0 ? [`turned ${turnDegrees} degrees`] : []),
    ...(blades.some((percent) => percent > 0) ? [`blades ${blades.join('/')} %`] : []),
  ];
  return words.join(', ') || 'the whole scan';
}
