/**
 * What the tests import as 'vitest' while mutants are tried: it only remembers them, so that each can be run alone,
 * again and again, without a new process.
 */

import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { format } from 'node:util';
import { JestAsymmetricMatchers, JestChaiExpect, JestExtend } from '@vitest/expect';
import { spyOn } from '@vitest/spy';
import * as chai from 'chai';
import { projectRoot } from '../../../../shared-protocol/project.js';

type Step = () => unknown;

export interface Suite {
  readonly name: string;
  readonly parent?: Suite;
  readonly beforeAll: Step[];
  readonly beforeEach: Step[];
  readonly afterEach: Step[];
  readonly afterAll: Step[];
}

export interface Check {
  readonly name: string;
  run(): Promise<void>;
}

/** A check with what it is made of. */
export interface CheckInSuites extends Check {
  /** From the file to the innermost. */
  readonly suites: readonly Suite[];
  readonly test: Step;
}

const emptySuite = (name: string, parent?: Suite): Suite => ({
  name,
  ...(parent && { parent }),
  beforeAll: [],
  beforeEach: [],
  afterEach: [],
  afterAll: [],
});

let suite = emptySuite('');
let checks: CheckInSuites[] = [];

/** What a file of tests has, which `load` imports. */
export async function checksOf(name: string, load: () => Promise<unknown>): Promise<CheckInSuites[]> {
  suite = emptySuite(name);
  checks = [];
  await load();
  return checks;
}

function ancestry(of: Suite): Suite[] {
  return of.parent === undefined ? [of] : [...ancestry(of.parent), of];
}

let running = '';

async function runAlone(suites: readonly Suite[], test: Step): Promise<void> {
  const all = async (steps: readonly Step[]) => {
    for (const step of steps) await step();
  };
  running = suites[0]!.name;
  try {
    await all(suites.flatMap(({ beforeAll }) => beforeAll));
    await all(suites.flatMap(({ beforeEach }) => beforeEach));
    await test();
  } finally {
    await all(suites.toReversed().flatMap(({ afterEach }) => afterEach));
    await all(suites.toReversed().flatMap(({ afterAll }) => afterAll));
  }
}

function addCheck(name: string, test: Step): void {
  const suites = ancestry(suite);
  checks.push({
    name: [...suites.map(({ name }) => name), name].join(' > '),
    suites,
    test,
    run: () => runAlone(suites, test),
  });
}

function addSuite(name: string, fill: () => void): void {
  suite = emptySuite(name, suite);
  fill();
  suite = suite.parent!;
}

type Cases = readonly unknown[];
const each =
  <Body extends (...values: never[]) => unknown>(add: (name: string, body: () => void) => void) =>
  (cases: Cases) =>
  (name: string, body: Body) => {
    for (const [index, one] of cases.entries()) {
      const values = (Array.isArray(one) ? one : [one]) as never[];
      add(format(`${name} (${index})`, ...values), () => body(...values));
    }
  };

const leaveOut = () => {};
const skipped =
  <Add>(add: Add) =>
  (isSo: boolean) =>
    isSo ? leaveOut : add;
export const it = Object.assign(addCheck, { each: each(addCheck), skipIf: skipped(addCheck) });
export const test = it;
export const describe = Object.assign(addSuite, { each: each(addSuite), skipIf: skipped(addSuite) });
export const beforeAll = (step: Step) => void suite.beforeAll.push(step);
export const beforeEach = (step: Step) => void suite.beforeEach.push(step);
export const afterEach = (step: Step) => void suite.afterEach.push(step);
export const afterAll = (step: Step) => void suite.afterAll.push(step);
export const vi = { spyOn };

chai.Assertion.addMethod('toMatchFileSnapshot', function (file: string) {
  const kept = readFileSync(join(projectRoot, dirname(running), file), 'utf8');
  this.assert(this._obj === kept, `it is not ${file}`, '', kept, this._obj);
});
chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);
export const expect = chai.expect;
