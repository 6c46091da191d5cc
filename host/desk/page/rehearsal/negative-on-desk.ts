import { boathouseNegative } from '../../../darkroom/negative/demo-negative.js';
import { commonScanReading, type Negative, scanTable } from '../../../darkroom/negative/negative.js';
import type { ScanPixels } from '../picture/print-maker.js';

const DEMO_LINES = 320;

/** The scan that lies on the desk, or the invented negative where there is none. */
export function negativeOnDesk(scan: ScanPixels | undefined): Negative {
  if (scan === undefined) return boathouseNegative(DEMO_LINES);
  return { ...scan, logTransmittance: scanTable(commonScanReading) };
}
