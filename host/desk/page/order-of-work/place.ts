/** A pass of the recipe, or a dodge in it, each from 0. */
export interface Place {
  readonly pass: number;
  readonly dodge?: number;
}

export function placeKey({ pass, dodge }: Place): string {
  return dodge === undefined ? `${pass}` : `${pass}/${dodge}`;
}

export function placeOf(key: string): Place {
  const [pass, dodge] = key.split('/').map(Number);
  return dodge === undefined ? { pass: pass! } : { pass: pass!, dodge };
}
