/**
 * The row of baths that a board has until its printer sets another. Common practice, no source: the data sheet of
 * the printer's own chemistry and paper goes before it. Fibre paper is washed without a washing aid here, and so
 * for an hour.
 */
export const usualBaths = [
  bath('developer', { resinCoated: 90, fibre: 150, drain: 10, agitation: 10 }),
  bath('stop', { resinCoated: 20, fibre: 30, drain: 5, agitation: 0 }),
  bath('fixer', { resinCoated: 90, fibre: 300, drain: 10, agitation: 30 }),
  bath('wash', { resinCoated: 180, fibre: 3600, drain: 10, agitation: 0 }),
] as const;

function bath(
  label: string,
  seconds: { resinCoated: number; fibre: number; drain: number; agitation: number },
) {
  return {
    label,
    resinCoatedSeconds: seconds.resinCoated,
    fibreSeconds: seconds.fibre,
    drainSeconds: seconds.drain,
    agitationSeconds: seconds.agitation,
    limitCm2: 0,
  };
}
