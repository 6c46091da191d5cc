/** What passed on a line, for whoever wants to see it. */
export interface LineEvent {
  readonly path: string;
  readonly kind: 'sent' | 'received' | 'thrown-away' | 'note';
  /** The line as it stood on the wire, a character a byte; words for a note. */
  readonly text: string;
  /** Why it was thrown away. */
  readonly why?: string;
}

/** Told of everything at once as it happens; must not throw. */
export type LineObserver = (event: LineEvent) => void;
