/**
 * How a strip lies on its negative. Both are counted from their middles, in shares of their own longer sides: a place of the
 * strip is mirrored left to right, if so, turned clockwise, made `scale` times as large and shifted.
 */
export interface Placement {
  readonly mirrored: boolean;
  readonly turnRadians: number;
  readonly scale: number;
  readonly shiftX: number;
  readonly shiftY: number;
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/** From pixels of the one to pixels of the other, counted from the middle of the first. */
export type PlaceOf = (x: number, y: number) => readonly [x: number, y: number];

export function onNegative(placement: Placement, strip: Size, negative: Size): PlaceOf {
  const [stripSide, side] = [Math.max(strip.width, strip.height), Math.max(negative.width, negative.height)];
  const times = (placement.scale * side) / stripSide;
  const [cosine, sine] = [Math.cos(placement.turnRadians) * times, Math.sin(placement.turnRadians) * times];
  const [middleX, middleY] = [(strip.width - 1) / 2, (strip.height - 1) / 2];
  const toX = placement.shiftX * side + (negative.width - 1) / 2;
  const toY = placement.shiftY * side + (negative.height - 1) / 2;
  const sign = placement.mirrored ? -1 : 1;
  return (x, y) => {
    const [right, down] = [sign * (x - middleX), y - middleY];
    return [toX + right * cosine - down * sine, toY + right * sine + down * cosine];
  };
}
