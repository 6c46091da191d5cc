import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { editJson } from '../../../host/recipe/reading/edit-json.js';
import { seed } from '../../shared-protocol/arbitrary-message.js';

describe('a file edited in place', () => {
  it('keeps the layout of what did not change', () => {
    const text = '{ "a": [1, 2,  3],\n\n  "b": {"c": "x"} }';
    expect(editJson(text, JSON.parse(text), { a: [1, 2, 3], b: { c: 'y' } })).toBe(
      text.replace('"x"', '"y"'),
    );
  });

  it('comes to what was wanted, whatever it was before', () => {
    const json = fc.jsonValue({ maxDepth: 4, noUnicodeString: true }).map((value) => ({ value }));
    fc.assert(
      fc.property(json, json, fc.constantFrom(0, 1, 3), (before, after, indent) => {
        const edited = editJson(JSON.stringify(before, undefined, indent), before, after);
        if (edited !== undefined) expect(JSON.parse(edited)).toEqual(JSON.parse(JSON.stringify(after)));
      }),
      { seed, numRuns: 500 },
    );
  });

  it('is left to a whole new text where a character has to be written as an escape', () => {
    expect(editJson('{"a":"x"}', { a: 'x' }, { a: '\u202e' })).toBeUndefined();
  });
});
