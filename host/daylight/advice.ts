import type { Planner, RecipePlan, StripPlan } from '../recipe/planner/index.js';

/** Something that a careful colleague would say before paper is spent; nothing is changed by it. */
export interface Advice {
  readonly kind:
    | 'short-base'
    | 'long-dodges'
    | 'joined-segment'
    | 'long-exposure'
    | 'wide-strip'
    | 'narrow-strip'
    | 'fine-step'
    | 'unknown-filter'
    | 'burn-filter';
  readonly text: string;
}

/** Under this a hand cannot do its work (common practice, no source). */
const DODGEABLE_MS = 8000;
/** Where dodging fills more of a pass than this, the areas cannot be blended (common practice, no source). */
const DODGED_SHARE = 0.75;
/** Papers begin to lose speed above about a minute (trade's arithmetic, reciprocity: from memory). */
const LONG_MS = 60_000;
/** Seven whole stops are beyond any paper's scale, ISO R180 being 6.0 stops (ISO 6846's ranges). */
const WIDE_STOPS1000 = 7000;
const NARROW_STOPS1000 = 750;
/** The smallest step that is seen is about a quarter of a stop; below a twelfth nobody sees anything (from memory). */
const FINE_STOPS1000 = 83;
const STOP120 = 120;
const MOST_STOPS = 10;

/** What stands out in a recipe's plan. Times at other lens stops are the core's. */
export function recipeAdvice(planner: Planner, plan: RecipePlan): Advice[] {
  return [...shortBase(planner, plan), ...plan.passes.flatMap(passAdvice)];
}

function shortBase(planner: Planner, { baseMs }: RecipePlan): Advice[] {
  if (baseMs >= DODGEABLE_MS) return [];
  for (let stops = 1; stops <= MOST_STOPS; stops++) {
    const longerMs = planner.timeAtStopsMs(baseMs, stops * STOP120);
    if (longerMs !== undefined && longerMs >= DODGEABLE_MS)
      return [
        {
          kind: 'short-base',
          text: `a base of ${secondsText(baseMs)} is too short to dodge in: stop the lens down by ${stopsText(stops)}, and it becomes ${secondsText(longerMs)}`,
        },
      ];
  }
  return [];
}

function passAdvice({ label, kind, doseMs, segments }: RecipePlan['passes'][number]): Advice[] {
  const name = `${kind} '${label}'`;
  const dodgedMs = segments.filter((one) => one.kind === 'dodge').reduce((sum, one) => sum + one.doseMs, 0);
  const found: Advice[] = segments
    .filter(({ joined }) => joined)
    .map((one) => ({
      kind: 'joined-segment',
      text: `${name}: ${secondsText(one.doseMs)} is shorter than the lamp can be relied on for, so it follows the exposure before it without a stop`,
    }));
  if (dodgedMs > doseMs * DODGED_SHARE)
    found.push({
      kind: 'long-dodges',
      text: `${name}: dodging takes ${secondsText(dodgedMs)} of ${secondsText(doseMs)}; a second base pass, or dodging two areas together, gives the hands more time`,
    });
  if (doseMs > LONG_MS)
    found.push({
      kind: 'long-exposure',
      text: `${name}: ${secondsText(doseMs)} is so long that papers lose speed and contrast; open the lens, or make a strip at that length`,
    });
  return found;
}

/** What stands out in a strip. */
export function stripAdvice({ patches }: StripPlan): Advice[] {
  const widthStops1000 = patches.at(-1)!.stops1000;
  const finest = Math.min(...patches.slice(1).map(({ stepStops1000 }) => stepStops1000));
  const found: Advice[] = [];
  if (widthStops1000 > WIDE_STOPS1000)
    found.push({
      kind: 'wide-strip',
      text: `${decimalStops(widthStops1000)} from first to last is more than any paper can show: use fewer patches or a smaller step`,
    });
  if (widthStops1000 < NARROW_STOPS1000)
    found.push({
      kind: 'narrow-strip',
      text: `${decimalStops(widthStops1000)} from first to last leaves little to choose from: a larger step finds the exposure sooner`,
    });
  if (finest < FINE_STOPS1000)
    found.push({
      kind: 'fine-step',
      text: `two patches are only ${decimalStops(finest)} apart, too little to see`,
    });
  if (patches.at(-1)!.doseMs > LONG_MS)
    found.push({
      kind: 'long-exposure',
      text: `${secondsText(patches.at(-1)!.doseMs)} is so long that papers lose speed: open the lens for shorter exposures`,
    });
  return found;
}

function secondsText(ms: number): string {
  return `${Number((ms / 1000).toFixed(1))} s`;
}

function stopsText(stops: number): string {
  return stops === 1 ? '1 stop' : `${stops} stops`;
}

function decimalStops(stops1000: number): string {
  return `${(stops1000 / 1000).toFixed(2)} stop`;
}
