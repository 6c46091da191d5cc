/** Where the lamp's light goes: a pass of the plan and a piece of it, both from 0. */
export interface Place {
  readonly pass: number;
  readonly piece: number;
}

export function keyOf({ pass, piece }: Place): string {
  return `${pass}/${piece}`;
}
