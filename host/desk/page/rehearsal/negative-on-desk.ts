import { boathouseNegative } from '../../../darkroom/negative/demo-negative.js';
import { framed } from '../../../darkroom/negative/framed.js';
import { commonScanReading, type Negative, scanTable } from '../../../darkroom/negative/negative.js';
import { tied } from '../../../darkroom/negative/tied.js';
import type { Recipe } from '../../../recipe/recipe.js';
import type { ScanPixels } from '../picture/print-maker.js';

const DEMO_LINES = 320;

/** The scan that lies on the desk, or the invented negative where there is none. */
export function negativeOnDesk(
  scan: ScanPixels | undefined,
  { framing, filmTie }: Pick<Recipe, 'framing' | 'filmTie'>,
): Negative {
  if (scan === undefined) return framed(boathouseNegative(DEMO_LINES), framing);
  const as = framing?.scanIs ?? 'negative';
  return tied(
    framed({ ...scan, logTransmittance: scanTable({ ...commonScanReading, as }) }, framing),
    filmTie,
  );
}
