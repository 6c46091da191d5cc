import { measuredFilters, measuredWords } from '../../../../daylight/papers/measured-filters.js';
import {
  type MeasuredPaper,
  paperName,
  paperProfileOf,
  type ShelvedReading,
} from '../../../../daylight/papers/measured-paper.js';
import type { PaperTold } from '../../papers/told.js';

interface AskedPaper {
  readonly paper: string;
  readonly developer: string;
  /** All that was read of the paper, in any developer. */
  readonly rows: readonly ShelvedReading[];
}

/** The measured profile as the page works with it; undefined where nothing was read of it. */
export async function tellPaper({ paper, developer, rows }: AskedPaper): Promise<PaperTold | undefined> {
  const measured = await paperProfileOf({ paperReadings: async () => rows }, paper, developer);
  return measured && toldOf(measured);
}

function toldOf(measured: MeasuredPaper): PaperTold {
  const { rangeSource, factorSource, ...table } = measuredFilters(measured);
  const names = table.filters.map(({ filter }) => filter);
  const each = <Told>(of: (filter: string) => Told) =>
    Object.fromEntries(names.map((filter) => [filter, of(filter)]));
  return {
    name: paperName(measured),
    figures: measured.figures,
    table,
    rangeSources: each((filter) => rangeSource!(filter)),
    factorSources: each((from) => each((to) => factorSource!(from, to))),
    words: measuredWords(measured, [])[0]!,
    filterWords: each((filter) => measuredWords(measured, [filter])[1]!),
  };
}
