import type { KeptStripReading } from '../../darkroom/profile/kept-reading.js';
import { sameStripIn } from '../../darkroom/profile/strips.js';
import { noiseOf, type StripReading } from '../../darkroom/reading/read-strip.js';
import { InputError } from '../../errors.js';
import { UnreadableText } from '../../recipe/text/unreadable-text.js';
import { unsafeCharacters } from '../../unsafe-characters.js';
import { isSamePaper, type PaperShelf, papersOn } from './measured-paper.js';

/** Where a strip can be kept: the archive, as far as it is needed here. */
interface OpenShelf extends PaperShelf {
  addPaperReading(reading: {
    readonly paper: string;
    readonly developer: string;
    readonly body: KeptStripReading;
  }): Promise<void>;
}

export interface StripForPaper {
  readonly paper: string;
  /** Undefined for the one that was read last. */
  readonly developer: string | undefined;
  readonly body: KeptStripReading;
}

export interface KeptIn {
  /** As it was first written. */
  readonly paper: string;
  readonly developer: string;
  /** Whether other strips of it were kept without a developer, which are another profile. */
  readonly isApart: boolean;
}

/** The strip is in the profile already; the message says as which. */
class SameStripError extends InputError {
  override readonly name = 'SameStripError';
}

/** Adds a strip to the profile of its paper and developer. @throws SameStripError, ArchiveError */
export async function keepStrip(
  shelf: OpenShelf,
  { paper, developer, body }: StripForPaper,
): Promise<KeptIn> {
  const there = (await papersOn(shelf)).filter((each) => isSamePaper(each.paper, paper));
  const last = there.at(-1) ?? { paper, developer: '' };
  const kept = { paper: last.paper, developer: developer ?? last.developer };
  const rows = (await shelf.paperReadings(kept.paper)).filter((row) => row.developer === kept.developer);
  const same = sameStripIn(rows, body);
  if (same !== undefined)
    throw new SameStripError(
      `this is strip ${same.number} of the profile, read before (${same.reading.sheet ?? same.reading.scan}): counted twice, it would make the figures look surer than they are. To read it anew, first leave that one out: treadle paper leave-out "${kept.paper}" ${same.number}`,
    );
  await shelf.addPaperReading({ ...kept, body });
  return { ...kept, isApart: kept.developer !== '' && there.some((each) => each.developer === '') };
}

/** What of a reading goes into a profile: densities above white and how sure each is. */
export function keptPatches({ patches }: StripReading): KeptStripReading['patches'] {
  return patches.map((patch) => ({
    doseMs: patch.doseMs,
    density: Number(patch.density.toFixed(4)),
    noise: Number(noiseOf(patch).toFixed(5)),
  }));
}

const MOST_LETTERS = 80;

/** The name of a paper or developer, as the paper's file has it and other commands call it. @throws UnreadableText */
export function readPaperName(text: string): string {
  const name = text.trim().normalize('NFC');
  if (name !== '' && name.length <= MOST_LETTERS && name.search(unsafeCharacters) < 0) return name;
  throw new UnreadableText(
    `write 1 to ${MOST_LETTERS} letters, without line breaks or signs that do not show`,
  );
}
