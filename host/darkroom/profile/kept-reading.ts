import { z } from 'zod';
import { errorBudgets, type ScanDevice } from '../reading/error-budget.js';

const patches = z
  .array(
    z.object({
      /** All the light that it had, full brightness; of a wedge, what came through the step. */
      doseMs: z.number().positive(),
      /** Above paper white, as the device said. */
      density: z.number(),
      /** One standard deviation of what it alone may be off by. */
      noise: z.number().min(0),
    }),
  )
  .min(2)
  .max(80);

const devices = Object.keys(errorBudgets) as [ScanDevice, ...ScanDevice[]];

const stripReading = z.object({
  kind: z.literal('strip'),
  filter: z.string(),
  device: z.enum(devices),
  /** What had the same light: same height, lens stop, lamp, and negative or none. */
  light: z.string(),
  /** Of the easel without negative and filter, where it was measured. */
  lux: z.number().positive().optional(),
  /** The step tablet, where the steps came of one. */
  wedge: z.string().optional(),
  /** What it was read from. */
  scan: z.string(),
  sheet: z.string().optional(),
  patches,
  /** The same strip scanned wet. */
  wet: patches.optional(),
});

/** A strip that a person does not want in the profile any more, or again. */
const choice = z.object({
  kind: z.enum(['left-out', 'taken-in']),
  /** Of the paper's readings in one developer, from 1. */
  reading: z.number().int().min(1),
});

/** What the archive keeps of a paper, one after the other. */
export const keptReadingSchema = z.discriminatedUnion('kind', [stripReading, choice]);
export type KeptStripReading = z.infer<typeof stripReading>;
export type KeptReading = z.infer<typeof keptReadingSchema>;

/** Undefined for what is damaged, or of a kind that a later version knows. */
export function keptReadingFrom(body: unknown): KeptReading | undefined {
  return keptReadingSchema.safeParse(body).data;
}
