/** What the page is told of the board. */

/** The board as the page sees it now. */
export type BoardNow =
  | { readonly stands: 'looking' }
  /** None answered, or it went away: why, and what to do. */
  | { readonly stands: 'none' | 'lost'; readonly words: string }
  | {
      readonly stands: 'there';
      readonly id: string;
      readonly name: string;
      readonly path: string;
      readonly version: string;
    };

/** One thing after another, as it happens. */
export type BoardNews =
  | { readonly board: BoardNow }
  /** For so long nothing has come from it though it was asked; 0 when it speaks again. */
  | { readonly silentMs: number }
  /** Its settings or baths were changed at this desk. */
  | { readonly changed: 'what it keeps' }
  | { readonly called: string }
  /** A row of its display, from 0. */
  | { readonly row: number; readonly text: string }
  /** The lamp, as the board tells; or what else it did, in words. */
  | { readonly lampIsOn: boolean; readonly words: string }
  | { readonly words: string }
  /** Of what the desk does with it. */
  | { readonly done: number; readonly all: number; readonly what: string };

export interface SettingTold {
  readonly name: string;
  readonly value: string;
  readonly bounds: string;
  readonly meaning: string;
}

export interface BathTold {
  readonly bath: number;
  readonly label: string;
  readonly time: string;
  readonly sinceMixed: string;
  readonly left: string;
}

/** What became of a print that was sent: it is on the board, or another is there that nothing may take the place of unasked. */
export type SentTold = { readonly words: string; readonly version: number } | { readonly over: string };

/** Of new firmware on its way to the board: step by step, how far it is, or why it is not there. */
export type FlashNews =
  | { readonly words: string }
  | { readonly what: string; readonly done: number; readonly all: number }
  | { readonly trouble: string };
