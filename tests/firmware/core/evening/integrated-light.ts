import type { RelayEdge } from '../../../../host/darkroom/light/lamp.js';
import type { LampByDefinition } from '../lamp-by-definition.js';

/** Steps of a tenth of the time constant, and of 1 ms at most: with Runge and Kutta's fourth order off by 10^-6. */
const STEPS_IN_CONSTANT = 10;

/**
 * The light of a lamp from its two equations, db/dt = (1 - b) / rise while it is driven and -b / fall while it is not,
 * integrated step by step (classical Runge-Kutta, any textbook of numerical mathematics), in milliseconds of full light.
 * For lamps without a delay: those that glow.
 */
export function integratedLightMs(lamp: LampByDefinition, edges: readonly RelayEdge[], toUs: number): number {
  let brightness = 0;
  let lightMs = 0;
  edges.forEach(({ atUs, on }, index) => {
    const endUs = Math.min(toUs, edges[index + 1]?.atUs ?? toUs);
    if (endUs <= atUs) return;
    const constantMs = on ? lamp.riseMs : lamp.fallMs;
    const goal = on ? 1 : 0;
    const steps = Math.ceil((endUs - atUs) / 1000 / Math.min(1, constantMs / STEPS_IN_CONSTANT));
    const stepMs = (endUs - atUs) / 1000 / steps;
    const slope = (b: number) => (goal - b) / constantMs;
    for (let step = 0; step < steps; step++) {
      const k1 = slope(brightness);
      const k2 = slope(brightness + (stepMs / 2) * k1);
      const k3 = slope(brightness + (stepMs / 2) * k2);
      const k4 = slope(brightness + stepMs * k3);
      // The light is the integral of the brightness, taken along by the same rule.
      const half1 = brightness + (stepMs / 2) * k1;
      const half2 = brightness + (stepMs / 2) * k2;
      lightMs += (stepMs / 6) * (brightness + 2 * half1 + 2 * half2 + (brightness + stepMs * k3));
      brightness += (stepMs / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
    }
  });
  return lightMs;
}
