import type { PortFacts } from './serial-port.js';

/** What a board's own USB port is called (firmware/board/devices/usb_descriptors.c). */
const BOARD = { vendorId: '2e8a', productId: '000a', manufacturer: 'treadle' } as const;

/**
 * Whether a port is likely to be a board's own, by what the operating system tells of it without opening it: by its
 * ids, which other devices with the same chip have too, or by its maker's name, which some systems take from a list of
 * theirs. A candidate, therefore, and no more; who it is, it says itself.
 */
export function isLikelyBoard({ vendorId, productId, manufacturer }: PortFacts): boolean {
  const hasIds = vendorId?.toLowerCase() === BOARD.vendorId && productId?.toLowerCase() === BOARD.productId;
  return hasIds || manufacturer?.toLowerCase() === BOARD.manufacturer;
}
