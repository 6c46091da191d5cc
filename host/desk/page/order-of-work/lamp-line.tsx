import { seconds } from '../../../figures.js';
import type { PlannedSegment, RecipePlan } from '../../../recipe/planner/index.js';
import { shownText } from '../shell/shown-text.js';

const WIDTH = 600;
const HEIGHT = 26;
/** Where the pedal is waited for. */
const GAP = 5;

interface Piece {
  readonly kind: 'base' | 'burn';
  readonly segment: PlannedSegment;
  readonly words: string;
}

/** When the lamp is on, from left to right: open for the base, black for a burn, hatched for a dodge; a gap is the pedal's. */
export function LampLine({ plan }: { readonly plan: RecipePlan }) {
  const pieces = piecesOf(plan);
  return (
    <>
      <svg
        class="lamp-line"
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={shownText(`When the lamp is on: ${pieces.map(({ words }) => words).join('; ')}`)}
      >
        <defs>
          <pattern
            id="dodged"
            width="6"
            height="6"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <path d="M0 0 V6" />
          </pattern>
        </defs>
        {placed(pieces).map(({ piece: { kind, segment, words }, x, width }) => (
          <rect
            key={x}
            class={segment.kind === 'dodge' ? 'dodge' : kind}
            x={x}
            y="1"
            width={width}
            height={HEIGHT - 2}
          >
            <title>{shownText(words)}</title>
          </rect>
        ))}
      </svg>
      <p class="key">
        <span class="box base" /> open <span class="box dodge" /> dodge <span class="box burn" /> burn; at
        each gap the lamp waits for the pedal
      </p>
    </>
  );
}

function piecesOf({ passes }: RecipePlan): Piece[] {
  return passes.flatMap(({ kind, label, segments }) =>
    segments.map((segment) => {
      const what = segment.kind === 'dodge' ? `dodge ${segment.label}` : `${kind} ${label}`;
      return { kind, segment, words: `${what} ${seconds(segment.onMs)}` };
    }),
  );
}

function placed(pieces: readonly Piece[]): { piece: Piece; x: number; width: number }[] {
  const gaps = pieces.slice(1).filter(({ segment }) => segment.stopsFirst).length * GAP;
  const wholeMs = pieces.reduce((sum, { segment }) => sum + segment.onMs, 0);
  let x = 1;
  return pieces.map((piece, index) => {
    if (index > 0 && piece.segment.stopsFirst) x += GAP;
    const width = ((WIDTH - 2 - gaps) * piece.segment.onMs) / wholeMs;
    const at = x;
    x += width;
    return { piece, x: at, width };
  });
}
