/**
 * What an image for this chip must keep to. The values are those of the board layer (`chip.mjs`, `port/storage.h`); a
 * test holds them equal.
 */
export const chip = {
  name: 'rp2040',
  /** How the UF2 format calls it (github.com/microsoft/uf2, utils/uf2families.json). */
  uf2Family: 0xe48b_ff56,
  flashAt: 0x1000_0000,
  /** Where the recipes and the log lie, from the flash's beginning. */
  storageAt: 0x8_0000,
  /** What its boot ROM erases at a time. */
  sectorBytes: 4096,
} as const;
