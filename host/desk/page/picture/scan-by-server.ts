import { answerTo, NotDoneError } from '../server-link.js';
import type { ScanPixels } from './print-maker.js';

/** The server takes no more: it is said before the file is sent. */
const MOST_SCAN_BYTES = 800_000_000;
/** Width and height come before the codes. */
const HEAD_BYTES = 4;

/** A scan as the server reads it, which then keeps it for the next start. @throws NotDoneError */
export async function readScanByServer(file: File): Promise<ScanPixels> {
  if (file.size > MOST_SCAN_BYTES)
    throw new NotDoneError(
      `${file.name} has ${Math.round(file.size / 1e6)} MB; a scan may have ${MOST_SCAN_BYTES / 1e6}: scan it at fewer dots an inch, or as grey`,
    );
  const query = new URLSearchParams({ name: file.name });
  const answer = await answerTo(`/api/scan?${query}`, { method: 'POST', body: file });
  return pixelsIn(await answer.arrayBuffer());
}

/** What lay on the desk when it was left; undefined where that was the invented negative. */
export async function lastScan(): Promise<{ readonly name: string; readonly scan: ScanPixels } | undefined> {
  try {
    const bytes = await (await answerTo('/api/scan', {})).arrayBuffer();
    if (bytes.byteLength <= HEAD_BYTES) return undefined;
    const scan = pixelsIn(bytes);
    const end = HEAD_BYTES + 2 * scan.width * scan.height;
    if (bytes.byteLength < end) return undefined;
    return { name: new TextDecoder().decode(new Uint8Array(bytes, end)), scan };
  } catch (error) {
    if (error instanceof NotDoneError) return undefined;
    throw error;
  }
}

/** A copy, which is handed on. */
function pixelsIn(bytes: ArrayBuffer): ScanPixels {
  const [width, height] = new Uint16Array(bytes, 0, 2) as unknown as [number, number];
  const end = HEAD_BYTES + 2 * width * height;
  return { width, height, samples: new Uint16Array(bytes.slice(HEAD_BYTES, end)) };
}
