import { boathouseNegative } from '../../../darkroom/negative/demo-negative.js';
import { framed } from '../../../darkroom/negative/framed.js';
import { commonScanReading, type Negative, scanTable } from '../../../darkroom/negative/negative.js';
import type { Framing } from '../../../recipe/framing.js';
import type { ScanPixels } from '../picture/print-maker.js';

const DEMO_LINES = 320;

/** The scan that lies on the desk, or the invented negative where there is none. */
export function negativeOnDesk(scan: ScanPixels | undefined, framing: Framing | undefined): Negative {
  if (scan === undefined) return framed(boathouseNegative(DEMO_LINES), framing);
  const as = framing?.scanIs ?? 'negative';
  return framed({ ...scan, logTransmittance: scanTable({ ...commonScanReading, as }) }, framing);
}
