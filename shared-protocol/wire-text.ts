/** What text on the line may be; without the schema, since a log is read by this alone. */

/** The form of a name; also what the quick check of a received line asks. */
export const NAME = /^(?:[a-z0-9]+(?:-[a-z0-9]+)*)?$/;

// C0, DEL and C1: they steer terminals and mean nothing on a display.
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what it looks for
export const CONTROL = /[\u0000-\u001f\u007f-\u009f]/;

/** `chars` counts code points, which are columns of the display; `wireBytes` the text between the quotes on the line. */
export interface TextBounds {
  readonly maxChars: number;
  readonly maxWireBytes: number;
}

/** Whether people may have written it: any Unicode but control characters and lone surrogates. */
export function isText(value: string, { maxChars, maxWireBytes }: TextBounds): boolean {
  return (
    value.isWellFormed() &&
    !CONTROL.test(value) &&
    [...value].length <= maxChars &&
    wireText(value).length <= maxWireBytes
  );
}

/** A string as it stands between the quotes on the line: JSON escapes for everything outside ASCII. */
export function wireText(value: string): string {
  return escapeToAscii(JSON.stringify(value)).slice(1, -1);
}

/** Leaves ASCII as it is and writes each other UTF-16 unit as a JSON escape. */
export function escapeToAscii(json: string): string {
  return json.replace(/[\u0080-\uffff]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`);
}
