/** Bounds that both sides keep; the generator copies them into the core and into the board layer's header. */
export const limits = {
  /** One line on the wire, newline included. */
  lineBytes: 240,
  /** Columns and rows of the board's display. */
  displayColumns: 20,
  displayRows: 4,
  /** The storage region of the board's flash: whole sectors of 4096 bytes, programmed in pages of 256. */
  storageBytes: 0x18_0000,
  sectorBytes: 4096,
  pageBytes: 256,
  /** A recipe. */
  recipePasses: 12,
  recipeDodges: 24,
  recipes: 64,
  /** A strip. */
  stripPatches: 12,
  /** One pass, one patch or one piece of either, in milliseconds of full light: an hour. */
  longestDoseMs: 3_600_000,
  /** Parts of a stop, and the widest step away from a base that any plan may ask for (10 stops). */
  stopParts: 120,
  offsetStops120: 1200,
  /** An offset that came of a time has a fine part as well: of these a 1/120 stop has 25,000, a stop 3,000,000. */
  fineParts: 25_000,
  /** Baths in a row. */
  baths: 8,
  /** Times by temperature, of all baths together; temperatures in tenths of a degree Celsius. */
  bathPoints: 12,
  coldestC10: 50,
  warmestC10: 450,
  /** Log records that one `collect` may ask for. */
  collectRecords: 64,
} as const;
