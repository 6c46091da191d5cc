import { describe, expect, it } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import { Random } from '../../../setup/random.js';
import { type Request, StoreModel } from './store-model.js';
import { code, StoreRig, wasCut } from './store-rig.js';

const names = ['jetty', 'reeds', 'boathouse', 'skelder-mere', 'a', 'one-of-twenty-letters'.slice(0, 20)];

/** Years of use in a moment: anything may be asked for at any time, and the power fails now and then. */
class History {
  readonly flash = new Flash();
  readonly model = new StoreModel();
  readonly random: Random;
  rig = new StoreRig(this.flash);
  cuts = 0;

  constructor(seed: number) {
    this.random = new Random(seed);
  }

  turn(): void {
    if (this.random.chance(0.02)) this.#planCut();
    if (wasCut(() => this.#move()) || this.random.chance(0.004)) this.#restart();
  }

  #move(): void {
    const { random } = this;
    if (random.chance(0.3)) this.#step(random.below(6));
    else if (random.chance(0.05)) this.rig.core.idle();
    else if (random.chance(0.04)) this.#burst();
    else this.#ask(this.#request());
  }

  #step(operations: number): void {
    for (let step = 0; step <= operations && this.rig.step(); step++) this.model.hear(this.rig);
    this.model.hear(this.rig);
  }

  #ask(request: Request): void {
    const answer = this.model.ask(this.rig, request);
    if (answer === code.full && (request.what === 'begin' || request.what === 'append')) {
      expect(this.rig.core.room()).toBe(0);
    }
    expect(answer).not.toBe(code.failed);
  }

  /** A night's worth at once, so that the ring goes round. */
  #burst(): void {
    for (let entry = 0; entry < 150; entry++) {
      this.#ask({ what: 'append', kind: 3, payload: this.random.bytes(150 + this.random.below(59)) });
      this.#step(9);
    }
  }

  #request(): Request {
    const { random, rig } = this;
    const name = random.pick(names);
    const kind = 1 + random.below(4);
    switch (random.below(7)) {
      case 0:
      case 1:
        return { what: 'begin', kind: random.below(256), payload: random.bytes(random.below(209)) };
      case 2:
      case 3:
        return { what: 'end', payload: random.bytes(random.below(17)) };
      case 4:
        return { what: 'forget', seq: Math.max(0, rig.core.endSeq() - random.below(400)) };
      case 5:
        return { what: 'put', kind, name, body: random.bytes(random.below(4033)) };
      default:
        return random.chance(0.5)
          ? { what: 'drop', kind, name }
          : { what: 'append', kind: random.below(256), payload: random.bytes(random.below(209)) };
    }
  }

  #planCut(): void {
    const share = this.random.below(1001) / 1000;
    const bits = new Random(this.random.below(1_000_000));
    this.flash.cutPowerAfter(this.random.below(12), () => bits.chance(share));
  }

  #restart(): void {
    this.cuts++;
    this.flash.restorePower();
    this.rig = new StoreRig(this.flash);
    this.model.recover(this.rig);
  }

  finish(): void {
    this.flash.restorePower();
    while (this.rig.step()) this.model.hear(this.rig);
    this.model.hear(this.rig);
    this.model.check(this.rig);
  }
}

describe('a long random history', () => {
  it.each([1, 2, 3, 4, 5])('leaves just what a simple model says, seed %i', (seed) => {
    const history = new History(seed);
    for (let turn = 0; turn < 2500; turn++) history.turn();
    history.finish();
    expect(history.cuts).toBeGreaterThan(20);
    expect(history.rig.core.nextSeq()).toBeGreaterThan(4600);
  });

  it('spreads the wear of the ring evenly, power cuts or not', () => {
    const history = new History(99);
    for (let turn = 0; turn < 4000; turn++) history.turn();
    const ring = history.flash.erases.subarray(0, 284);
    // A cut inside an erase or before the mark costs that sector one more.
    expect(Math.max(...ring) - Math.min(...ring)).toBeLessThanOrEqual(4);
  });
});
