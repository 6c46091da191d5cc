/** What the hand is to do in the middle of what is timed. */
export enum Move {
  None,
  /** The card goes on. */
  Card,
  /** The bath is to be moved. */
  Agitate,
  /** The paper comes out to drain. */
  Lift,
}
