import type { Remark, RemarksOnSheets, SheetPlace, SheetRemark } from '../archive/archive.js';

/** What was said of single sheets, by the record that begins each. */
export class SheetRemarks implements RemarksOnSheets {
  readonly #bySheet = new Map<string, SheetRemark[]>();

  constructor(remarks: readonly Remark[]) {
    for (const { sheet, rating, words, writtenMs } of remarks) {
      if (sheet === null) continue;
      const said = this.#bySheet.get(keyOf(sheet)) ?? [];
      this.#bySheet.set(keyOf(sheet), [...said, { rating, words, writtenMs }]);
    }
  }

  of(place: SheetPlace): readonly SheetRemark[] | undefined {
    return this.#bySheet.get(keyOf(place));
  }
}

function keyOf({ board, log, boot, seq }: SheetPlace): string {
  return `${log} ${boot} ${seq} ${board}`;
}

/** 'rated 4: sky a sixth less'. */
export function remarkWords({ rating, words }: Pick<SheetRemark, 'rating' | 'words'>): string {
  const rated = rating === null ? 'remark' : `rated ${rating}`;
  return words === '' ? rated : `${rated}: ${words}`;
}
