import { estimate } from '../reading/estimate.js';
import { paperProblem } from './paper-model.js';
import { type Form, type StartValues, startValues, usualForm } from './start-values.js';
import type { NumberedStrip } from './strips.js';

/** Where the form of a paper's curve is looked for, since from the usual one the steps do not find all: usual corners, none, none and a long shoulder, none and a long toe. */
const FORMS: readonly Form[] = [
  usualForm,
  { corners: 1.5, skew: 0 },
  { corners: 1.5, skew: 2.5 },
  { corners: 1.5, skew: -1.5 },
];
/** So many strips tell where to begin. */
const ENOUGH_STRIPS = 14;

/** Values to begin with, and the form of the curve from which the strips are fitted best. */
export function bestStart(strips: readonly NumberedStrip[]): StartValues {
  const begin = startValues(strips);
  const few = evenlyAmong(strips);
  const evidenceFrom = (form: Form) => {
    const { unknowns, observations } = paperProblem(few, undefined, { ...begin, form });
    return estimate(unknowns, observations).evidence;
  };
  const tried = FORMS.map((form) => ({ form, evidence: evidenceFrom(form) }));
  const { form } = tried.reduce((best, each) => (each.evidence > best.evidence ? each : best));
  return { ...begin, form };
}

function evenlyAmong(strips: readonly NumberedStrip[]): readonly NumberedStrip[] {
  const step = Math.ceil(strips.length / ENOUGH_STRIPS);
  return strips.filter((_, at) => at % step === 0);
}
