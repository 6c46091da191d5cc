/** What the shelf is still to keep, or is being handed. */

export enum Unkept {
  Nothing = 0,
  Settings = 1,
  Baths = 2,
  /** A recipe that was set aside. */
  Aside = 4,
  /** The recipe in use, as it was changed. */
  Recipe = 8,
}

@unmanaged
export class Keeping {
  /** Of Unkept, several together. */
  waiting: i32; // explored: not
  /** The flash is being written from a copy. */
  inBackground: bool; // explored: not, the shelf's ticket tells
  /** And that is the recipe that was set aside. */
  aside: bool; // explored: not
  /** The flash is being written from the recipe in use, which must stay as it is meanwhile. */
  recipe: bool; // explored: not, the shelf's ticket tells
  /** The shelf has another row of baths, which is not in use yet. */
  bathsAreNew: bool;
  /** Baths of an incoming row taken so far, and the one that was mixed fresh, from 0. */
  bathsTaken: i32; // explored: not
  pointsTaken: i32; // explored: not
  bathMixed: i32; // explored: not
}
