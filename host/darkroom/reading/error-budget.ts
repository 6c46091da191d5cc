/**
 * How far to believe what a device says: one standard deviation of each error, from trials in the virtual darkroom that took
 * flatbeds as practitioners report them. No real paper was read.
 */
export interface ErrorBudget {
  /** Of density as a whole: the tone curve's gamma is off by so much. */
  readonly gammaShare: number;
  /** Of density, from uneven light, between a patch and the white that it is measured from. */
  readonly evennessDensity: number;
  /** Stray light of the device, as a share of paper white, what is usual and how it varies. */
  readonly flareShare: number;
  readonly flareSpread: number;
  /** Of each patch's light, in stops: hands and lamp. */
  readonly doseStops: number;
}

export const errorBudgets = {
  flatbed: {
    gammaShare: 0.03,
    evennessDensity: 0.0015,
    flareShare: 0.003,
    flareSpread: 0.0015,
    doseStops: 0.0145,
  },
  phone: {
    gammaShare: 0.1,
    evennessDensity: 0.005,
    flareShare: 0.03,
    flareSpread: 0.01,
    doseStops: 0.0145,
  },
} as const satisfies Record<string, ErrorBudget>;
export type ScanDevice = keyof typeof errorBudgets;
