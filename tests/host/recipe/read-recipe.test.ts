import { describe, expect, it } from 'vitest';
import { RecipeError, type RecipeProblem, readRecipe } from '../../../host/recipe/index.js';
import { limits } from '../../../shared-protocol/limits.js';
import { demoFile } from './demo-recipe.js';

function problemsOf(file: unknown): readonly RecipeProblem[] {
  try {
    readRecipe(typeof file === 'string' || file instanceof Uint8Array ? file : JSON.stringify(file, null, 2));
  } catch (error) {
    if (error instanceof RecipeError) return error.problems;
    throw error;
  }
  return [];
}

const base = (more: object) => ({ ...demoFile(), passes: [{ kind: 'base', ...more }] });

describe('a recipe file', () => {
  it('is read into whole milliseconds and whole 1/120 stops', () => {
    expect(readRecipe(JSON.stringify(demoFile()))).toEqual({
      name: 'boathouse-at-dusk',
      title: 'Boathouse at dusk',
      negative: '27-14, frame 9',
      paper: 'fibre, gloss',
      version: 1,
      aperture10: 80,
      magnification1000: 4_250,
      columnHeightMm: 0,
      focalLengthMm: 0,
      dryDown10: 0,
      baseMs: 12_500,
      passes: [
        { kind: 'base', label: 'base', filter: '2', stops120: 0, dodges: [{ label: 'face', stops120: -40 }] },
        { kind: 'burn', label: 'sky', filter: '00', stops120: 90, dodges: [] },
      ],
      notes: '',
      history: [],
    });
  });

  it('needs no more than a title, a base and a pass', () => {
    const recipe = readRecipe('{"title":"A","base":"10s","passes":[{"kind":"base"}]}');
    expect(recipe).toMatchObject({ name: 'a', baseMs: 10_000, negative: '', aperture10: 0 });
  });

  it.each([
    ['Boathouse, café side', 'boathouse-cafe-side'],
    ['  Skelder Mere: the long jetty ', 'skelder-mere-th-gr45'],
    ['Skelder Mere by boat, I', 'skelder-mere-by-8www'],
    ['№ 7', 'no-7'],
  ])('makes of the title %j the name %j', (title, name) => {
    expect(readRecipe(JSON.stringify({ ...demoFile(), title })).name).toBe(name);
  });

  it('may begin with a byte-order mark, which some editors put there', () => {
    const bytes = Buffer.from(`\uFEFF${JSON.stringify(demoFile())}`);
    expect(readRecipe(bytes).title).toBe('Boathouse at dusk');
  });

  it('may name its schema for editors', () => {
    expect(problemsOf({ $schema: './recipe.schema.json', ...demoFile() })).toEqual([]);
  });
});

describe('a field that is wrong', () => {
  it.each<[string, unknown, string, RegExp]>([
    [
      'an unknown field',
      { ...demoFile(), titel: 'x' },
      'titel',
      /no such field; the fields here are .*title/,
    ],
    [
      'an unknown field of a pass',
      base({ stop: '0' }),
      'passes[0].stop',
      /the fields here are kind, label, filter/,
    ],
    [
      'a fraction not in 1/120',
      base({ stops: '1/7' }),
      'passes[0].stops',
      /'1\/7' is not a whole number of 1\/120/,
    ],
    ['a base of nothing', { ...demoFile(), base: '0s' }, 'base', /'0s' is out of range; from 0.001s to 1h/],
    ['a base of two hours', { ...demoFile(), base: '2h' }, 'base', /'2h' is out of range; from 0.001s to 1h/],
    ['a base that is no time', { ...demoFile(), base: '12 sec' }, 'base', /with its unit/],
    ['a base as a number', { ...demoFile(), base: 12 }, 'base', /must be a text .*; given was 12/],
    [
      'a label too long for the display',
      base({ dodges: [{ label: 'the old boathouse door', stops: '-1/3' }] }),
      'passes[0].dodges[0].label',
      /at most 16 characters; given was "the old boathouse door"/,
    ],
    [
      'a label that steers a terminal',
      base({ label: 'a\u001b[2J' }),
      'passes[0].label',
      /control characters; given was "a\\u001b\[2J"/,
    ],
    ['an empty label', base({ label: '' }), 'passes[0].label', /must not be empty/],
    [
      'a dodge that adds',
      base({ dodges: [{ label: 'a', stops: '1/3' }] }),
      'passes[0].dodges[0].stops',
      /-1\/3/,
    ],
    [
      'a burn that takes away',
      { ...demoFile(), passes: [{ kind: 'burn', label: 'sky', stops: '-1/3' }] },
      'passes[0].stops',
      /'-1\/3' adds no light/,
    ],
    [
      'a burn of nobody knows what',
      { ...demoFile(), passes: [{ kind: 'burn', stops: '1' }] },
      'passes[0].label',
      /missing/,
    ],
    [
      'a kind that there is not',
      { ...demoFile(), passes: [{ kind: 'bern' }] },
      'passes[0].kind',
      /'base' or 'burn'/,
    ],
    ['no pass', { ...demoFile(), passes: [] }, 'passes', /must not be empty/],
    [
      'too many passes',
      { ...demoFile(), passes: Array.from({ length: limits.recipePasses + 1 }, () => ({ kind: 'base' })) },
      'passes',
      /at most 12 entries/,
    ],
    ['a title that no name can be made of', { ...demoFile(), title: 'лицо' }, 'title', /add a field name/],
    ['a name that is no file name', { ...demoFile(), name: '../x' }, 'name', /small letters, digits/],
    ['a list instead of a recipe', [], '', /set of fields/],
    ['an odd magnification', { ...demoFile(), magnification: 1e9 }, 'magnification', /at most 60/],
  ])('is told: %s', (_, file, path, words) => {
    const problems = problemsOf(file);
    expect(problems.map((problem) => problem.path)).toEqual([path]);
    expect(problems[0]!.message).toMatch(words);
  });
});

describe('a plan that is wrong', () => {
  // Source: base x (1 - 2^-d), computed: a stop and two stops of 12.5 s hold back 6.25 + 9.375 s.
  it('is told at its pass with both figures and the way out: dodges longer than their pass', () => {
    const dodges = [
      { label: 'left', stops: '-1' },
      { label: 'right', stops: '-2' },
    ];
    expect(problemsOf(base({ dodges }))).toMatchObject([
      {
        path: 'passes[0]',
        message:
          'the dodges need 15.625 s but their pass has only 12.500 s; ' +
          'split the pass into two base passes, or dodge two areas together',
      },
    ]);
  });

  // Source: 12.5 s x (1 - 2^(-1/12)) = 0.7016 s, computed; the lamp's least from its definition: 2 s lit after no
  // delay give 2 - 0.4 x (1 - e^-2) = 1.6541 s.
  it('is told at its dodge: shorter than the lamp can give', () => {
    const file = JSON.stringify(base({ dodges: [{ label: 'left', stops: '-1/12' }] }));
    expect(readRecipe(file).baseMs).toBe(12_500);
    const slowLamp = { lamp: { lagMs: 400, riseMs: 1_000 } };
    expect(() => readRecipe(file, slowLamp)).toThrow(
      /passes\[0\].dodges\[0\]: 0.702 s is shorter than 1.655 s/,
    );
  });

  it('is told beside what is wrong with other fields', () => {
    const paths = problemsOf({
      ...demoFile(),
      colour: 'red',
      passes: [
        { kind: 'base', stops: '1/7' },
        {
          kind: 'base',
          dodges: [
            { label: 'left', stops: '-1' },
            { label: 'right', stops: '-2' },
          ],
        },
      ],
    }).map((problem) => problem.path);
    expect(paths).toEqual(['passes[0].stops', 'passes[1]', 'colour']);
  });
});

describe('a file that is not JSON', () => {
  it('without a comma is told with line and column', () => {
    expect(problemsOf('{\n  "title": "A"\n  "base": "10s"\n}')).toEqual([
      { path: '', message: 'a comma is missing before this: "base"', line: 3, column: 3 },
    ]);
  });

  it.each<[string, string, RegExp]>([
    ['a comma too many', '{"title": "A",}', /comma is too many/],
    ['single quotes', "{'title': 'A'}", /./],
    ['a quote that is not closed', '{"title": "A', /closing quote is missing/],
    ['a brace that is not closed', '{"title": "A"', /closing } is missing/],
    ['a comment', '{"title": "A" // mine\n}', /no comments/],
    ['a second recipe behind it', '{} {}', /follows after the end/],
    ['nothing', '', /./],
    ['a hundred thousand brackets', '['.repeat(100_000), /nested too deep/],
    ['a name given twice', '{"title": "A", "title": "B"}', /given twice/],
    ['a backslash of a path', '{"title": "C:\\photos"}', /backslash/],
    ['a megabyte of blanks', ' '.repeat(1_000_000), /larger than/],
  ])('is told in words: %s', (_, file, words) => {
    const problems = problemsOf(file);
    expect(problems).toHaveLength(1);
    expect(problems[0]!.message).toMatch(words);
  });

  it('nor UTF-8 is told so', () => {
    expect(problemsOf(Uint8Array.of(0x7b, 0xff, 0x7d))).toMatchObject([
      { message: expect.stringMatching(/not UTF-8.*save it as UTF-8/) },
    ]);
  });

  it('gets one fault for one figure or one field, whatever is wrong with it', () => {
    expect(problemsOf({ ...demoFile(), version: 1e308 })).toMatchObject([
      { path: 'version', message: expect.stringContaining('must be at most 65535;') },
    ]);
    expect(problemsOf({ ...demoFile(), history: 'x'.repeat(300) })).toMatchObject([
      { path: 'history', message: expect.stringContaining('must be a list in [ ]') },
    ]);
  });

  it('gets the place of every wrong field, too', () => {
    const file =
      '{\n  "title": "A",\n  "base": "0s",\n  "passes": [\n    {"kind": "base", "stops": "1/7"}\n  ]\n}';
    expect(problemsOf(file).map(({ line, column }) => [line, column])).toEqual([
      [3, 11],
      [5, 31],
    ]);
  });
});
