/** How the storage region is divided, in whole sectors: the log's ring, the tally, the shelf. */
import { SECTOR_BYTES, STORAGE_BYTES } from '../generated/constants';

/** 64 recipes and the other documents, and free sectors to take turns with. */
export const SHELF_SECTORS: i32 = 96;
export const TALLY_SECTORS: i32 = 4;
export const RING_SECTORS: i32 = STORAGE_BYTES / SECTOR_BYTES - SHELF_SECTORS - TALLY_SECTORS;

export const RING_OFFSET: u32 = 0;
export const TALLY_OFFSET: u32 = RING_OFFSET + RING_SECTORS * SECTOR_BYTES;
export const SHELF_OFFSET: u32 = TALLY_OFFSET + TALLY_SECTORS * SECTOR_BYTES;
