import { InputError } from '../../errors.js';
/**
 * The light of an enlarger's lamp, from the edges of the relay that switches it.
 *
 * A first-order lamp: driven, its brightness b (1 = full) obeys db/dt = (1 - b) / rise; left alone,
 * db/dt = -b / fall. The relay's contact closes `delayMs` after its coil is told to, and opens at once.
 * The brightness carries over from one pulse to the next, so a lamp that is still warm starts warmer. This
 * is integrated piece by piece from those equations and knows nothing of any exposure formula, so that it
 * can contradict one. A real lamp is only roughly of first order: rely on it for pulses well above the rise.
 */
export interface LampBehaviour {
  readonly delayMs: number;
  readonly riseMs: number;
  readonly fallMs: number;
}

/** The relay's coil was switched at `atUs` (microseconds since power-up). */
export interface RelayEdge {
  readonly atUs: number;
  readonly on: boolean;
}

export const lampBounds = { delayMs: 1000, riseMs: 3000, fallMs: 3000, edges: 10_000 } as const;

/** A lamp or a list of edges that cannot be. `field` names what is wrong. */
export class LampError extends InputError {
  override readonly name = 'LampError';
  constructor(
    readonly field: string,
    message: string,
  ) {
    super(message);
  }
}

/**
 * The lamp that a person has measured as lag (what a long exposure loses) and rise time.
 * A fixed loss of `lag` and a rise of `rise` leave delay = max(0, lag - rise) and
 * fall = rise + delay - lag, because a long pulse loses delay + rise - fall.
 */
export function lampFromLagAndRise(lagMs: number, riseMs: number): LampBehaviour {
  const delayMs = Math.max(0, lagMs - riseMs);
  return { delayMs, riseMs, fallMs: riseMs + delayMs - lagMs };
}

/** A stretch in which the lamp is driven all the time, or not at all. */
interface Stretch {
  readonly fromUs: number;
  readonly driven: boolean;
  readonly brightness: number;
  /** Light given before `fromUs`, in microseconds of full brightness. */
  readonly lightUs: number;
}

/** Everything that the lamp gave, to be asked for any window of time. */
export class LampTrace {
  readonly #lamp: LampBehaviour;
  readonly #stretches: Stretch[] = [];

  /** @throws LampError for a negative time constant, or edges out of order or not alternating from on. */
  constructor(lamp: LampBehaviour, edges: readonly RelayEdge[]) {
    checkLamp(lamp);
    checkEdges(edges);
    this.#lamp = lamp;
    this.#stretches.push({ fromUs: Number.NEGATIVE_INFINITY, driven: false, brightness: 0, lightUs: 0 });
    for (const { atUs, on } of contactEdges(edges, lamp.delayMs * 1000)) {
      const brightness = this.brightnessAt(atUs);
      const lightUs = this.#lightUntilUs(atUs);
      this.#stretches.push({ fromUs: atUs, driven: on, brightness, lightUs });
    }
  }

  /** Brightness at `atUs`, 0 to 1. */
  brightnessAt(atUs: number): number {
    const stretch = this.#stretchAt(atUs);
    return settle(stretch, this.#lamp, atUs).brightness;
  }

  /** Light given from `fromUs` to `toUs` (which may be Infinity), in milliseconds of full brightness. */
  lightMs(fromUs: number, toUs: number): number {
    return (this.#lightUntilUs(toUs) - this.#lightUntilUs(fromUs)) / 1000;
  }

  #lightUntilUs(atUs: number): number {
    const stretch = this.#stretchAt(atUs);
    return stretch.lightUs + settle(stretch, this.#lamp, atUs).lightUs;
  }

  #stretchAt(atUs: number): Stretch {
    let low = 0;
    let high = this.#stretches.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.#stretches[middle]!.fromUs <= atUs) low = middle;
      else high = middle - 1;
    }
    return this.#stretches[low]!;
  }
}

/** The solution of the lamp's equation within one stretch: brightness now, and the light since its start. */
function settle(stretch: Stretch, lamp: LampBehaviour, atUs: number) {
  const { driven, brightness, fromUs } = stretch;
  if (!driven && brightness === 0) return { brightness: 0, lightUs: 0 };
  const elapsedUs = atUs - fromUs;
  const constantUs = (driven ? lamp.riseMs : lamp.fallMs) * 1000;
  const goal = driven ? 1 : 0;
  // The distance to the goal shrinks by this factor; a time constant of 0 is an instant lamp.
  const settled = constantUs === 0 ? 1 : -Math.expm1(-elapsedUs / constantUs);
  const away = brightness - goal;
  const steadyUs = driven ? elapsedUs : 0;
  return { brightness: goal + away * (1 - settled), lightUs: steadyUs + away * constantUs * settled };
}

/** The contact's edges: closing late by the delay, opening at once; a pulse within the delay never closes it. */
function contactEdges(edges: readonly RelayEdge[], delayUs: number): RelayEdge[] {
  const contact: RelayEdge[] = [];
  for (let index = 0; index < edges.length; index += 2) {
    const onUs = edges[index]!.atUs + delayUs;
    const offUs = edges[index + 1]?.atUs;
    if (offUs !== undefined && offUs <= onUs) continue;
    contact.push({ atUs: onUs, on: true });
    if (offUs !== undefined) contact.push({ atUs: offUs, on: false });
  }
  return contact;
}

function checkLamp(lamp: LampBehaviour): void {
  for (const field of ['delayMs', 'riseMs', 'fallMs'] as const) {
    const value = lamp[field];
    if (value >= 0 && value <= lampBounds[field]) continue;
    throw new LampError(
      field,
      `the lamp's ${field} is ${value}; it must be from 0 to ${lampBounds[field]} ms`,
    );
  }
}

function checkEdges(edges: readonly RelayEdge[]): void {
  if (edges.length > lampBounds.edges)
    throw new LampError('edges', `${edges.length} relay edges; at most ${lampBounds.edges} are followed`);
  edges.forEach(({ atUs, on }, index) => {
    const before = edges[index - 1];
    if (before !== undefined && !(atUs > before.atUs))
      throw new LampError(
        'edges',
        `relay edge ${index} at ${atUs} us does not follow the one at ${before.atUs} us`,
      );
    if (on !== (index % 2 === 0))
      throw new LampError('edges', `relay edge ${index} switches ${on ? 'on' : 'off'} what already is`);
  });
}

/** How long the relay was on each time, in microseconds; a pulse that has not ended is left out. */
export function pulsesOnUs(edges: readonly RelayEdge[]): number[] {
  const pulses: number[] = [];
  for (let index = 1; index < edges.length; index += 2)
    pulses.push(edges[index]!.atUs - edges[index - 1]!.atUs);
  return pulses;
}
