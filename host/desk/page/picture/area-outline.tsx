import type { Shape } from '../../../recipe/shape.js';
import { outlineBox } from './shape-changes.js';

interface Props {
  readonly shape: Shape;
  /** Of the drawing, whose height is 100. */
  readonly width: number;
}

/** Twice: a wide line of the ground's colour under a thin one of ink, so that it shows on every tone. */
export function AreaOutline(props: Props) {
  return (
    <>
      <Outline {...props} name="under" />
      <Outline {...props} name="line" />
    </>
  );
}

function Outline({ shape, width, name }: Props & { readonly name: string }) {
  const x = (percent: number) => (percent * width) / 100;
  switch (shape.kind) {
    case 'rectangle':
      return (
        <rect
          class={name}
          x={x(shape.leftPercent)}
          y={shape.topPercent}
          width={x(shape.widthPercent)}
          height={shape.heightPercent}
        />
      );
    case 'ellipse':
      return (
        <ellipse
          class={name}
          cx={x(shape.centreXPercent)}
          cy={shape.centreYPercent}
          rx={x(shape.widthPercent) / 2}
          ry={shape.heightPercent / 2}
          transform={`rotate(${shape.turnDegrees} ${x(shape.centreXPercent)} ${shape.centreYPercent})`}
        />
      );
    case 'polygon':
      return (
        <polygon class={name} points={shape.pointsPercent.map(([px, y]) => `${x(px)},${y}`).join(' ')} />
      );
    case 'edge': {
      const [left, top, right, bottom] = outlineBox(shape);
      const end = innerEnd[shape.side](x(left), top, x(right), bottom);
      return (
        <>
          {name === 'under' && (
            <rect class="hold" x={x(left)} y={top} width={x(right - left)} height={bottom - top} />
          )}
          <path class={name} d={end} />
        </>
      );
    }
  }
}

/** An edge has one line: where it has faded to nothing. */
const innerEnd = {
  top: (left: number, _top: number, right: number, bottom: number) => `M${left} ${bottom}H${right}`,
  bottom: (left: number, top: number, right: number) => `M${left} ${top}H${right}`,
  left: (_left: number, top: number, right: number, bottom: number) => `M${right} ${top}V${bottom}`,
  right: (left: number, top: number, _right: number, bottom: number) => `M${left} ${top}V${bottom}`,
} as const;
