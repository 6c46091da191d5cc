import { encodeLine, type Message } from '../../../shared-protocol/index.js';
import { Random } from '../../setup/random.js';

const AREAS = ['sky', 'boathouse wall', 'face', 'reeds', 'jetty', 'Außenwand', ''];
const FILTERS = ['2', '00', '3', ''];

/** Log records as an evening of printing makes them: mostly exposures, here and there another kind. */
export function sampleRecords(count: number, seed = 1): Message[] {
  const random = new Random(seed);
  return Array.from({ length: count }, (_, index): Message => {
    const logged = { id: 7, boot: 3, seq: index + 1, uptimeMs: 60_000 + index * 21_000 };
    if (index % 16 === 0)
      return { type: 'clock', ...logged, epochMs: Date.UTC(2027, 2, 5, 20) + index * 21_000 };
    if (index % 16 === 1) return { type: 'lens', ...logged };
    const plannedMs = random.between(800, 40_000);
    return {
      type: 'exposure',
      ...logged,
      kind: random.pick(['base', 'burn', 'strip'] as const),
      recipe: random.pick(['skelder-mere-dawn', 'low-tide', '']),
      pass: random.between(1, 4),
      patch: random.between(0, 6),
      label: random.pick(AREAS),
      filter: random.pick(FILTERS),
      plannedMs,
      onMs: plannedMs + 64,
      doseMs: plannedMs,
      outcome: 'complete',
      pauses: 0,
      sheet: 1 + (index >> 3),
    };
  });
}

export function sampleLines(count: number): string {
  return sampleRecords(count)
    .map((record) => encodeLine(record))
    .join('');
}
