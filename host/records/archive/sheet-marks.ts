/** Records that tell of a sheet's beginning and its end. */
export const sheetMarks = "type IN ('sheet', 'sheet-resumed', 'sheet-ended', 'sheet-unused')";
export const sheetMarkIndex = `CREATE INDEX sheet_mark ON record (board, log, boot, seq, type) WHERE ${sheetMarks};`;
