import type { Core } from '../../core/generated/core-interface.js';
import { PlanError, planFault } from './plan-error.js';

/** The refusal that the core has just answered with `code`, its figures included; its passes count from `firstPass`. */
export function failure(core: Core, code: number, firstPass = 0): PlanError {
  const pass = core.planFailedPass();
  const dodge = core.planFailedDodge();
  return new PlanError(planFault(code), {
    ...(pass >= 0 && { pass: firstPass + pass }),
    ...(dodge >= 0 && { dodge }),
    neededMs: core.planNeededMs(),
    allowedMs: core.planAllowedMs(),
  });
}
