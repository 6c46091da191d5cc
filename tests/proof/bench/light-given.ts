import fc from 'fast-check';
import {
  type Area,
  errorShare,
  eveningArbitrary,
  recipeArbitrary,
  recipeAreas,
  stripArbitrary,
  stripAreas,
} from '../../host/darkroom/closed-loop.js';
import { percent, type Section } from './page.js';

const SEED = 20270305;
const PLANS = 1000;
/** 0.5 per cent is 0.007 stop. */
const ALLOWED = 0.005;

/** The light that falls, integrated from the relay's edges, against the light asked for; with and without the lamp made up for. */
export function lightGiven(): Section {
  const evenings = fc.sample(
    fc.record({
      strip: stripArbitrary,
      recipe: recipeArbitrary,
      evening: eveningArbitrary,
      dodgesStop: fc.boolean(),
    }),
    { seed: SEED, numRuns: PLANS },
  );
  const strips = (compensated: boolean) =>
    evenings.flatMap(({ strip, evening }) => stripAreas(strip, evening, compensated) ?? []);
  const prints = (compensated: boolean) =>
    evenings.flatMap(
      ({ recipe, evening, dodgesStop }) => recipeAreas(recipe, evening, dodgesStop, compensated) ?? [],
    );
  return {
    title: 'Light asked for and light given',
    about:
      `${PLANS} random strips and ${PLANS} random prints (seed ${SEED}), lamps of 0 to 400 ms lag and 0 to 250 ms rise, pauses ` +
      "and the gaps that hands make; every patch and area integrated from the relay's edges by the lamp's own equation. " +
      `Goal: none beyond ${percent(ALLOWED)}.`,
    columns: ['plans', 'areas', 'half within', 'worst', `beyond ${percent(ALLOWED)}`],
    rows: [
      row('strips, the lamp made up for', strips(true)),
      row('strips, the lamp ignored', strips(false)),
      row('prints, the lamp made up for', prints(true)),
      row('prints, the lamp ignored', prints(false)),
    ],
  };
}

function row(what: string, areas: readonly Area[]): (string | number)[] {
  const errors = areas.map(errorShare).sort((one, other) => one - other);
  const share = (error: number) => `${(100 * error).toFixed(3)} %`;
  const beyond = errors.filter((error) => error > ALLOWED).length;
  return [what, errors.length, share(errors[errors.length >> 1]!), share(errors.at(-1)!), beyond];
}
