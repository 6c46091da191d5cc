/** One table of the bench's page: what was measured, beside what it is measured against, in the same run. */
export interface Section {
  readonly title: string;
  /** What is compared with what, and where the goal comes from. */
  readonly about: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly (string | number)[])[];
}

export function markdown({ title, about, columns, rows }: Section): string {
  const line = (cells: readonly (string | number)[]) => `| ${cells.join(' | ')} |`;
  const rule = columns.map((_, index) => (index === 0 ? '---' : '---:'));
  return [`## ${title}`, '', about, '', line(columns), line(rule), ...rows.map(line), ''].join('\n');
}

/**
 * Wall time of the quickest of `rounds` runs of each work, in milliseconds: the run that was disturbed least. The
 * works take turns, so that whatever slows the machine slows all of them.
 */
export async function bestMs(rounds: number, ...works: readonly (() => unknown)[]): Promise<number[]> {
  const best = works.map(() => Number.POSITIVE_INFINITY);
  for (let round = 0; round < rounds; round++) {
    for (const [index, work] of works.entries()) {
      const startMs = performance.now();
      await work();
      best[index] = Math.min(best[index]!, performance.now() - startMs);
    }
  }
  return best;
}

export const percent = (share: number): string => `${(share * 100).toFixed(1)} %`;
export const times = (ratio: number): string => ratio.toFixed(2);
export const thousands = (count: number): string =>
  Math.round(count).toLocaleString('en').replaceAll(',', ' ');
