import { expect, it } from 'vitest';
import { encodeLine, limits, type Message, type MessageOf } from '../../../../shared-protocol/index.js';
import { settings } from '../../../../shared-protocol/settings.js';
import { randomMessage } from '../../../proof/fuzz/random-message.js';
import { Random } from '../../../setup/random.js';
import { Conversation, readAll, wholeOf } from './conversation.js';
import { type Expected, KeptModel } from './kept-model.js';

// Against a second board that was written from the schema's words alone, and keeps what it is told in plain lists.

const TALKS = 12;
const REQUESTS_A_TALK = 120;
const LABELS = ['developer', 'stop', 'fixer', 'wash', ''];

/** A recipe of the names that come again and again, with a pass more or a dodge less than it has now and then. */
function anyRecipe(random: Random): Message[] {
  const passes = random.between(1, 4);
  const dodges = Array.from({ length: passes }, () => random.below(4));
  const all = dodges.reduce((sum, count) => sum + count, 0);
  const of = (
    type: 'recipe-begin' | 'recipe-text' | 'recipe-head' | 'recipe-pass' | 'recipe-dodge' | 'recipe-fine',
  ) => randomMessage(random, [type], 0);
  const name = random.pick(['jetty', 'slipway', 'weir', 'mole', '']);
  const begin = { ...of('recipe-begin'), name, passes, dodges: all } as Message;
  const body = dodges.flatMap((count, pass) => [
    { ...of('recipe-pass'), pass: pass + 1, dodges: count } as Message,
    ...Array.from({ length: count }, () => of('recipe-dodge')),
  ]);
  const fines = random.chance(0.5)
    ? [
        {
          ...of('recipe-fine'),
          offset: random.between(1, Math.min(passes + all + 1, limits.recipePasses + limits.recipeDodges)),
        } as Message,
      ]
    : [];
  return [begin, of('recipe-text'), of('recipe-text'), of('recipe-head'), ...body, ...fines];
}

/** What a laptop would send next of what it has under way, and often enough something else. */
class Laptop {
  readonly #random: Random;
  #recipe: Message[] = [];
  #sent: Message[] = [];
  #row: Message[] = [];
  #id = 0x7fc0;

  constructor(random: Random) {
    this.#random = random;
  }

  next(): Message {
    return { ...this.#any(), id: ++this.#id } as Message;
  }

  /** A line that is taken counts for the whole. */
  note(message: Message, expected: Expected): void {
    if (message.type === 'recipe-begin') this.#sent = [];
    if (message.type.startsWith('recipe-') && expected.type === 'ok') this.#sent.push(message);
  }

  #any(): Message {
    const random = this.#random;
    if (random.chance(0.55)) return this.#nextOfRecipe();
    if (random.chance(0.55)) return this.#nextOfRow();
    const name = random.pick(['jetty', 'slipway', 'weir', 'mole']);
    const setting = random.pick(Object.keys(settings) as (keyof typeof settings)[]);
    const { min, max } = settings[setting];
    return random.pick<Message>([
      { type: 'recipe-remove', id: 0, name },
      { type: 'name-set', id: 0, name: random.pick(['', 'board by a sink', 'cellar']) },
      { type: 'set-setting', id: 0, name: setting, value: random.pick([min, max, min - 1, max + 1]) },
      { type: 'bath-renew', id: 0, bath: random.between(1, limits.baths) },
      { type: 'points-clear', id: 0 },
    ]);
  }

  #nextOfRecipe(): Message {
    const random = this.#random;
    if (random.chance(0.05)) return { type: 'recipe-commit', id: 0, whole: '00000000' };
    if (random.chance(0.05)) return random.pick(anyRecipe(random));
    const next = this.#recipe.shift();
    if (next === undefined)
      this.#recipe = [...anyRecipe(random), { type: 'recipe-commit', id: 0, whole: '' }];
    if (next === undefined) return this.#recipe.shift()!;
    // Left out now and then, so that the one behind it comes too early.
    if (random.chance(next.type === 'recipe-head' ? 0.3 : 0.03)) return this.#nextOfRecipe();
    return next.type === 'recipe-commit' ? { ...next, whole: wholeOf(this.#sent) } : next;
  }

  #nextOfRow(): Message {
    const random = this.#random;
    if (this.#row.length === 0) this.#row = random.chance(0.5) ? this.#baths() : this.#points();
    const next = this.#row.shift()!;
    return random.chance(0.1) ? this.#nextOfRow() : next;
  }

  #baths(): Message[] {
    const random = this.#random;
    const baths = random.between(1, 4);
    const shift = random.below(LABELS.length - 1);
    return Array.from({ length: baths }, (_, at) => {
      const label = random.chance(0.1) ? random.pick(LABELS) : LABELS[(at + shift) % (LABELS.length - 1)];
      return { ...randomMessage(random, ['bath-set'], 0), bath: at + 1, baths, label } as Message;
    });
  }

  #points(): Message[] {
    const random = this.#random;
    const points = random.between(1, 5);
    return Array.from(
      { length: points },
      (_, at) =>
        ({
          ...randomMessage(random, ['point-set'], 0),
          ...{ point: at + 1, points, label: random.pick(LABELS) },
        }) as Message,
    );
  }
}

function listed(
  name: string,
  kept: readonly Readonly<Record<string, unknown>>[],
): Readonly<Record<string, unknown>> {
  const title = kept.find((line) => line.which === 'title')!.value;
  const { version, baseMs } = kept.find((line) => line.type === 'recipe-head')!;
  return { type: 'recipe-line', name, title, version, baseMs, passes: kept[0]!.passes, intact: true };
}

/** Tells the board and the model the same, and holds one against the other. */
class Comparison {
  readonly #random: Random;
  readonly #laptop: Laptop;
  readonly #model = new KeptModel();
  #board = Conversation.greeted();

  constructor(seed: number) {
    this.#random = new Random(seed);
    this.#laptop = new Laptop(this.#random);
  }

  step(): void {
    const message = this.#laptop.next();
    if (this.#random.chance(0.08)) this.#tellWhileItReads(message);
    else if (this.#random.chance(0.2)) this.#tellInHaste(message);
    else this.#tell(message);
    this.#model.settle();
    if (this.#random.chance(0.03)) this.#startAnew();
    if (this.#random.chance(0.1)) this.expectAllKept();
  }

  /** Now and then twice: the board has its last answers in mind. */
  #tell(message: Message): void {
    const expected = this.#take(message);
    this.#expectAnswers([message], [expected], this.#board.say(message));
    if (this.#random.chance(0.05)) this.#expectAnswers([message], [expected], this.#board.say(message));
  }

  #take(message: Message, isReading = false): Expected {
    const expected = this.#model.take(message, isReading);
    this.#laptop.note(message, expected);
    return expected;
  }

  /** Some more requests before the flash is done with the first. */
  #tellInHaste(first: Message): void {
    const messages = [
      first,
      ...Array.from({ length: this.#random.between(1, 6) }, () => this.#laptop.next()),
    ];
    const expected = messages.map((message) => this.#take(message));
    const said = messages.flatMap((message) => readAll(this.#board.raw(encodeLine(message))));
    this.#expectAnswers(messages, expected, [...said, ...this.#board.later()]);
  }

  /** A list is being read out by a line that is full. */
  #tellWhileItReads(message: Message): void {
    const names = [...this.#model.recipes.keys()];
    const asked = this.#random.pick<Message>([
      { type: 'recipe-list', id: 0 },
      { type: 'collect', id: 0, fromSeq: 1, count: 4 },
      ...names.map((name) => ({ type: 'recipe-get', id: 0, name }) as const),
    ]);
    this.#board.roomBytes = 0;
    this.#board.say({ ...asked, id: message.id + 0x2000 } as Message);
    const expected = this.#take(message, asked.type !== 'collect');
    this.#board.say(message);
    this.#model.settle();
    const said = this.#board.drain().filter(({ id }) => id === message.id);
    this.#expectAnswers([message], [expected], said);
  }

  #expectAnswers(
    messages: readonly Message[],
    expected: readonly Expected[],
    said: readonly Message[],
  ): void {
    for (const [at, message] of messages.entries()) {
      const where = `${JSON.stringify(message)} was answered by ${JSON.stringify(said)}`;
      expect(
        said.filter(({ id }) => id === message.id),
        where,
      ).toMatchObject([expected[at]!]);
    }
  }

  /** The power goes, or only the laptop. */
  #startAnew(): void {
    if (this.#random.chance(0.5)) this.#board = new Conversation(this.#board.flash);
    this.#board.hello();
    this.#model.hello();
  }

  expectAllKept(): void {
    const { recipes, baths, points, name, settings: set } = this.#model;
    let id = 1000;
    const ask = <Type extends Message['type']>(message: Omit<MessageOf<Type>, 'id'>) =>
      this.#board.say({ ...message, id: ++id } as MessageOf<Type>);
    const names = [...recipes.keys()].toSorted();
    expect(ask<'recipe-list'>({ type: 'recipe-list' })).toMatchObject([
      ...names.map((each) => listed(each, recipes.get(each)!)),
      { type: 'ended', count: names.length },
    ]);
    for (const each of names) {
      const kept = recipes.get(each)!;
      expect(ask<'recipe-get'>({ type: 'recipe-get', name: each })).toMatchObject([
        ...kept,
        { type: 'ended', count: kept.length },
      ]);
    }
    expect(ask<'ping'>({ type: 'ping' })).toMatchObject([{ recipes: names.length }]);
    for (const [at, bath] of baths.entries())
      expect(ask<'bath-get'>({ type: 'bath-get', bath: at + 1 })).toMatchObject([
        { ...bath, baths: baths.length },
      ]);
    for (const [at, point] of points.entries())
      expect(ask<'point-get'>({ type: 'point-get', point: at + 1 })).toMatchObject([point]);
    expect(ask<'point-get'>({ type: 'point-get', point: points.length + 1 })).toMatchObject([
      { code: 'not-found' },
    ]);
    expect(ask<'name-get'>({ type: 'name-get' })).toMatchObject([{ name }]);
    for (const [each, value] of Object.entries(set))
      expect(ask<'get-setting'>({ type: 'get-setting', name: each as never })).toMatchObject([{ value }]);
  }
}

it.each(Array.from({ length: TALKS }, (_, at) => at + 1))(
  'whatever is sent, early, late and twice, is answered and kept as the model has it (seed %i)',
  (seed) => {
    const comparison = new Comparison(seed);
    for (let request = 0; request < REQUESTS_A_TALK; request++) comparison.step();
    comparison.expectAllKept();
  },
);
