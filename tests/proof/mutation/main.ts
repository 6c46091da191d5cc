/**
 * `npm run mutation`: changes the core by one instruction at a time and shows what its tests do not notice; then takes out
 * the guards that a person chose. What was tried before on the same core is not tried again.
 *
 *   -- --sample 100 --seed 7    so many places of the core, chosen by the seed, and no guards
 *   -- --bar 95                 fails where fewer of a hundred are noticed
 *   -- --longest 2000           only by checks that take no more milliseconds
 *   -- --again                  tries anew what was not noticed (the tests changed)
 *   -- --again --checks sound   the same, only by tests with this in their path
 *   -- --only ids.txt           only mutants whose ids, as they stand behind each in the list, are a line of that file
 *   -- --host link --sample 150 the same of a part of the host: link, records or shared-protocol
 *   -- --host link --again --checks link/  the same, only by tests with this in their path
 *   -- --guards worlds states   only the guards, or those that these checks must notice
 */
import { readFileSync } from 'node:fs';
import { readOptions } from '../read-options.js';
import { mutateCore } from './core/mutate-core.js';
import { takeGuardsOut } from './guards.js';
import { mutateHost } from './host/mutate-host.js';

const usage =
  'npm run mutation -- [--sample N] [--seed N] [--bar N] [--longest MS] [--again] [--checks PATH] [--only FILE] [--host link|records|shared-protocol] [--guards CHECKS]';
const { values, positionals } = readOptions(usage, {
  allowPositionals: true,
  options: {
    sample: { type: 'string' },
    seed: { type: 'string', default: '1' },
    workers: { type: 'string', default: '2' },
    bar: { type: 'string', default: '0' },
    longest: { type: 'string', default: '600000' },
    checks: { type: 'string' },
    only: { type: 'string' },
    host: { type: 'string' },
    again: { type: 'boolean', default: false },
    guards: { type: 'boolean', default: false },
  },
});

let passed = true;
const asked = {
  sample: values.sample === undefined ? Number.POSITIVE_INFINITY : Number(values.sample),
  seed: Number(values.seed),
  bar: Number(values.bar),
  again: values.again,
  checks: values.checks,
  only: values.only === undefined ? [] : readFileSync(values.only, 'utf8').split('\n').filter(Boolean),
};
if (values.host !== undefined) passed = await mutateHost({ ...asked, area: values.host });
else if (!values.guards)
  passed = await mutateCore({
    ...asked,
    workers: Number(values.workers),
    longestMs: Number(values.longest),
  });
if (values.guards || (values.host ?? values.sample ?? values.only) === undefined)
  passed = takeGuardsOut(positionals) && passed;
if (!passed) process.exitCode = 1;
// What the checks of the last mutants left open keeps no process alive.
process.exit();
