interface Toned {
  readonly density: number;
  readonly doseMs: number;
}

/** So much a step lagged on one strip in six hundred of the virtual darkroom at most: 0.03. */
const MOST_LAG = 0.04;

/**
 * Whether a step from patch to patch is far smaller than those beside it let be, as where a patch was given twice or left out. A paper's
 * curve is steepest once: its slope never lies under the geometric mean of the slopes before and behind (log-concave, as those of the
 * logistic, Gompertz and normal curves are; a mixture of two emulsions lags a little). `patches` lightest first.
 */
export function hasLaggingStep(patches: readonly Toned[]): boolean {
  const steps = patches.slice(1).map(({ density, doseMs }, at) => {
    const before = patches[at]!;
    const stops = Math.log2(doseMs / before.doseMs);
    const slope = Math.max(LEAST_SLOPE, (density - before.density) / stops);
    return { stops, slope, middle: Math.log2(doseMs * before.doseMs) / 2 };
  });
  return steps.slice(1, -1).some(({ stops, slope, middle }, at) => {
    const [before, behind] = [steps[at]!, steps[at + 2]!];
    const share = (middle - before.middle) / (behind.middle - before.middle);
    return (before.slope ** (1 - share) * behind.slope ** share - slope) * stops > MOST_LAG;
  });
}
const LEAST_SLOPE = 1e-6;
