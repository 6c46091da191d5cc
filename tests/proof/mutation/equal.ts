/** A change of a single line that no test can notice, and why. The line stands in its file. */
export interface Equal {
  readonly file: string;
  /** Part of the line that is changed; it stands in the file. */
  readonly line: string;
  /** Part of the line above it, where others look alike. */
  readonly below?: string;
  readonly change: RegExp;
  readonly why: string;
}
