import { describe, expect, it } from 'vitest';
import { keptStrip, papers } from '../../daylight/read-papers.js';
import { profileOf } from './profile-trials.js';

/** How often exponentials of curves are taken, and figures put into rows of equations, for so many strips through two filters. */
function workFor(strips: number): number {
  const readings = Array.from({ length: strips }, (_, at) => ({
    ...keptStrip(papers.Pearl, at % 2 === 0 ? '2' : '4'),
    light: `evening ${Math.floor(at / 5)}`,
  }));
  const { exp } = Math;
  const { set } = Map.prototype;
  let work = 0;
  Math.exp = (power) => {
    work++;
    return exp(power);
  };
  Map.prototype.set = function (key, value) {
    work++;
    return set.call(this, key, value);
  };
  try {
    profileOf(readings);
  } finally {
    Math.exp = exp;
    Map.prototype.set = set;
  }
  return work;
}

describe('the work that a profile takes', () => {
  // All strips were fitted anew for each one that might be an outlier, and one matrix had them all: a hundred took a minute.
  it('grows as the strips do, each with the light of its evening', () => {
    expect(workFor(24)).toBeLessThan(3.5 * workFor(8));
  });
});
