/**
 * A contact as a foot or a finger means it, from edges as the pin sees them. The other level must add up to
 * SETTLE_US before it counts; time on the old level takes a quarter of itself back, so that single spikes never
 * add up and a bouncing contact hardly waits. What follows within the bounce window is not listened to.
 */
import { NEVER } from './never';

/** Long enough to shrug off what a relay's spark couples into the pedal's cable. */
const SETTLE_US: i64 = 200;
/** Foot switches bounce for up to 15 ms (common practice, no source). */
const BOUNCE_US: i64 = 25_000;
const TAKEN_BACK_SHIFT: i64 = 2;

@unmanaged
export class Contact {
  creditUs: i64; // explored: not, its timer tells
  countedToUs: i64; // explored: not
  /** No credit before this. */
  deafUntilUs: i64; // explored: not, its timer tells
  level: bool; // explored: not, the pin tells
  /** What the contact is taken to be. */
  down: bool; // explored: not, the pin and its timer tell

  /** An edge of the pin. */
  edge(level: bool, nowUs: i64): void {
    this.count(nowUs);
    this.level = level;
  }

  /** True when by `nowUs` the contact has changed; `down` says to what. */
  settle(nowUs: i64): bool {
    this.count(nowUs);
    if (this.level == this.down || this.creditUs < SETTLE_US) return false;
    this.down = this.level;
    this.creditUs = 0;
    this.deafUntilUs = nowUs + BOUNCE_US;
    return true;
  }

  /** When `settle` will be true if no edge comes before. */
  settlesAtUs(): i64 {
    if (this.level == this.down) return NEVER;
    return max(this.countedToUs, this.deafUntilUs) + max<i64>(0, SETTLE_US - this.creditUs);
  }

  private count(nowUs: i64): void {
    const countedToUs = this.countedToUs;
    const fromUs = max(countedToUs, this.deafUntilUs);
    this.countedToUs = max(nowUs, countedToUs);
    if (nowUs <= fromUs) return;
    if (this.level != this.down) this.creditUs += nowUs - fromUs;
    else this.creditUs = max<i64>(0, this.creditUs - ((nowUs - fromUs) >> TAKEN_BACK_SHIFT));
  }
}
