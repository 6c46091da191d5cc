import { isoBounds } from '../../darkroom/paper/iso-6846.js';
import { commonPaper, type FilterFigures, type PaperFigures } from '../../darkroom/paper/paper.js';
import { keptReadingFrom } from '../../darkroom/profile/kept-reading.js';
import { type FilterProfile, type PaperProfile, profileFrom } from '../../darkroom/profile/paper-profile.js';
import { isAllLeftOut, type PaperReadingRow } from '../../darkroom/profile/strips.js';
import { REPLACEMENT, unsafeCharacters } from '../../unsafe-characters.js';

/** Where readings of papers are kept: the archive, as far as it is needed here. */
export interface PaperShelf {
  paperReadings(paper?: string): Promise<readonly ShelvedReading[]>;
}

export interface ShelvedReading extends PaperReadingRow {
  readonly paper: string;
  readonly developer: string;
}

/** A paper with a developer of which something was read. */
export interface PaperOnShelf {
  readonly paper: string;
  readonly developer: string;
  /** How many versions its profile has. */
  readonly versions: number;
  readonly lastMs: number;
}

/** What is measured of a paper, and figures to render and to advise with. */
export interface MeasuredPaper extends PaperOnShelf {
  readonly profile: PaperProfile;
  /** All filters: the measured ones' own figures, and of the others what is common, put to the speed of the measured. */
  readonly figures: PaperFigures;
  /** Of which filters the range, and the speed beside the others, are measured; the rest of `figures` is common practice. */
  readonly measuredRanges: ReadonlySet<string>;
  readonly measuredSpeeds: ReadonlySet<string>;
  /** Rows of the archive that are damaged, or of a kind that a later version knows: they are in no figure. */
  readonly unreadable: number;
}

/** `pearl, fibre in developer 1:9`. */
export function paperName({ paper, developer }: Pick<PaperOnShelf, 'paper' | 'developer'>): string {
  const name = developer === '' ? paper : `${paper} in ${developer}`;
  return name.replace(unsafeCharacters, REPLACEMENT);
}

/** Large or small letters, and either way to write an accent, are one name. */
export function isSamePaper(one: string, other: string): boolean {
  const [first, second] = [one, other].map((name) => name.trim().normalize('NFC').toLowerCase());
  return first === second;
}

/** The papers, the one last read last, with those whose strips were all left out. */
export async function papersOn(shelf: PaperShelf): Promise<PaperOnShelf[]> {
  return papersAmong(await shelf.paperReadings());
}

/** The papers of which a strip counts, the one last read last. */
export async function papersInUse(shelf: PaperShelf): Promise<PaperOnShelf[]> {
  const rows = await shelf.paperReadings();
  return papersAmong(rows).filter(
    (on) => !isAllLeftOut(rows.filter((row) => row.paper === on.paper && row.developer === on.developer)),
  );
}

/**
 * The measured profile of a paper by its name.
 * @param developer left out, the one that was read last with it.
 * @param version an earlier one; left out, all that was read counts.
 * @returns undefined where nothing was read of it.
 */
export async function paperProfileOf(
  shelf: PaperShelf,
  paper: string,
  developer?: string,
  version?: number,
): Promise<MeasuredPaper | undefined> {
  const rows = await shelf.paperReadings(paper);
  const on = papersAmong(rows).findLast((each) => developer === undefined || each.developer === developer);
  if (on === undefined) return undefined;
  const own = rows.filter((row) => row.developer === on.developer);
  const profile = profileFrom(own, version);
  const unreadable = own.filter(({ body }) => keptReadingFrom(body) === undefined).length;
  return profile && { ...on, ...usable(paper, profile), profile, unreadable };
}

function papersAmong(rows: readonly ShelvedReading[]): PaperOnShelf[] {
  const papers = new Map<string, PaperOnShelf>();
  for (const { paper, developer, keptMs } of rows) {
    const key = JSON.stringify([paper, developer]);
    const versions = (papers.get(key)?.versions ?? 0) + 1;
    papers.delete(key);
    papers.set(key, { paper, developer, versions, lastMs: keptMs });
  }
  return [...papers.values()];
}

/** Of unexposed paper: a scanner tells tones from paper white alone, so it stays the common one. */
const { baseDensity } = commonPaper;

function usable(
  name: string,
  profile: PaperProfile,
): Pick<MeasuredPaper, 'figures' | 'measuredRanges' | 'measuredSpeeds'> {
  const measured = new Map(profile.filters.map((each) => [each.filter, each]));
  const reference = referenceSpeed(profile);
  const common = commonSpeedScale(profile, reference);
  const names = [...new Set([...Object.keys(commonPaper.filters), ...measured.keys()])];
  const filters = names.map((filter) => {
    const usual = commonPaper.filters[filter] ?? commonPaper.filters['2']!;
    return [filter, figuresOf(measured.get(filter), usual, reference, common)] as const;
  });
  const has = (figure: 'rangeR' | 'factor') =>
    new Set(profile.filters.filter((each) => each[figure] !== undefined).map(({ filter }) => filter));
  return {
    figures: {
      name,
      baseDensity,
      maximumDensity: within(baseDensity + profile.black.value, baseDensity + 1, 4),
      filters: Object.fromEntries(filters),
    },
    measuredRanges: has('rangeR'),
    measuredSpeeds: has('factor'),
  };
}

/** Its own where light was measured; else the common one, so that the factors come out. */
function referenceSpeed({ filters, referenceFilter }: PaperProfile): number {
  const own = filters.find(({ filter }) => filter === referenceFilter)?.speedP?.value;
  return own ?? commonSpeed(referenceFilter);
}

/** By how much this paper is quicker than the common one, through the reference filter. */
function commonSpeedScale({ referenceFilter }: PaperProfile, reference: number): number {
  return reference / commonSpeed(referenceFilter);
}

function commonSpeed(filter: string): number {
  return (commonPaper.filters[filter] ?? commonPaper.filters['2']!).speedP;
}

function figuresOf(
  measured: FilterProfile | undefined,
  usual: FilterFigures,
  reference: number,
  scale: number,
): FilterFigures {
  const speed = measured?.factor === undefined ? usual.speedP * scale : reference / measured.factor.value;
  return {
    speedP: within(speed, isoBounds.speedP.min, isoBounds.speedP.max),
    rangeR: within(measured?.rangeR?.value ?? usual.rangeR, isoBounds.rangeR.min, isoBounds.rangeR.max),
  };
}

function within(value: number, min: number, max: number): number {
  return Math.min(max, Math.max(min, value));
}
