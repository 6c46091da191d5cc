/** Records that tell of a sheet's beginning and its end. */
export const sheetMarks = "type IN ('sheet', 'sheet-resumed', 'sheet-ended', 'sheet-unused')";
export const sheetMarkIndex = `CREATE INDEX sheet_mark ON record (board, log, boot, seq, type) WHERE ${sheetMarks};`;

/** Records that tell what came of the recipe in use between sheets. */
export const recipeMarks =
  "type IN ('recipe-change', 'recipe-taken', 'recipe-version', 'stopped-down', 'strip-reading')";
export const recipeMarkIndex = `CREATE INDEX recipe_mark ON record (board, log, seq, boot) WHERE ${recipeMarks};`;
