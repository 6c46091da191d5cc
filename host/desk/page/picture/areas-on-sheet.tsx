import { useRef } from 'preact/hooks';
import { formatStops } from '../../../recipe/index.js';
import type { Shape } from '../../../recipe/shape.js';
import { AreaOutline } from './area-outline.js';
import { type Area, placeName } from './areas.js';
import { Corners } from './corners.js';
import type { PictureOnDesk } from './picture-on-desk.js';
import { moved, outlineBox, type Point, resized, shapeBetween } from './shape-changes.js';

interface Props {
  readonly picture: PictureOnDesk;
}

/** A twelfth of a stop. */
const WHEEL_STOPS120 = 10;
const KEY_PERCENT = 1;
const arrows: Readonly<Record<string, Point>> = {
  ArrowLeft: [-KEY_PERCENT, 0],
  ArrowRight: [KEY_PERCENT, 0],
  ArrowUp: [0, -KEY_PERCENT],
  ArrowDown: [0, KEY_PERCENT],
};
const stopKeys: Readonly<Record<string, number>> = {
  '+': WHEEL_STOPS120,
  '=': WHEEL_STOPS120,
  '-': -WHEEL_STOPS120,
};

/** How a drag changes a shape, by how far it went in per cent of the sheet. */
type Pull = (shape: Shape, by: Point) => Shape;

/** The areas over the picture, to be taken hold of. */
export function AreasOnSheet({ picture }: Props) {
  const width = 100 * picture.aspect.value;
  const svg = useRef<SVGSVGElement>(null);
  const pointOf = ({ clientX, clientY }: PointerEvent): Point => {
    const box = svg.current!.getBoundingClientRect();
    return [(100 * (clientX - box.left)) / box.width, (100 * (clientY - box.top)) / box.height];
  };
  const drag = (area: Area, pull: Pull) => (event: PointerEvent) => {
    if (event.button !== 0 || area.shape === undefined || picture.drawing.value) return;
    event.stopPropagation();
    picture.choose(area.place);
    const [shape, start] = [area.shape, pointOf(event)];
    follow(event, picture, (now) => {
      const [x, y] = pointOf(now);
      picture.reshape(area, pull(shape, [x - start[0], y - start[1]]));
    });
  };
  const draw = (event: PointerEvent) => {
    const area = picture.chosen.value;
    if (!picture.drawing.value || area?.shape === undefined) return;
    const [{ kind }, start] = [area.shape, pointOf(event)];
    picture.drawing.value = false;
    follow(event, picture, (now) => picture.reshape(area, shapeBetween(kind, start, pointOf(now))));
  };
  return (
    // biome-ignore lint/a11y/useSemanticElements: a drawing is no form
    <svg
      ref={svg}
      viewBox={`0 0 ${width} 100`}
      class={picture.drawing.value ? 'areas drawing' : 'areas'}
      role="group"
      aria-label="Areas on the sheet"
      onPointerDown={draw}
    >
      {edgesFirst(picture.areas.value).map((area) => (
        <AreaOnSheet key={placeName(area.place)} picture={picture} area={area} drag={drag} />
      ))}
    </svg>
  );
}

/** The widest lie under the others, so that those can be taken hold of. */
function edgesFirst(areas: readonly Area[]): Area[] {
  const isOver = ({ shape }: Area) => Number(shape?.kind !== 'edge');
  return [...areas].sort((a, b) => isOver(a) - isOver(b));
}

/** Hands over a pointer's ways until it is let go. */
function follow(event: PointerEvent, picture: PictureOnDesk, go: (now: PointerEvent) => void): void {
  const held = event.currentTarget as Element;
  picture.beginStep();
  held.setPointerCapture(event.pointerId);
  const end = new AbortController();
  const { signal } = end;
  held.addEventListener('pointermove', (now) => go(now as PointerEvent), { signal });
  for (const name of ['pointerup', 'pointercancel', 'lostpointercapture'])
    held.addEventListener(name, () => end.abort(), { signal });
}

interface AreaProps extends Props {
  readonly area: Area;
  drag(area: Area, pull: Pull): (event: PointerEvent) => void;
}

function AreaOnSheet({ picture, area, drag }: AreaProps) {
  const { shape, kind, number, label, stops120, place } = area;
  if (shape === undefined) return null;
  const isChosen = picture.chosenName.value === placeName(place);
  const isHidden = picture.hidden.value.has(placeName(place));
  const turn = (by: number) => picture.giveStops(area, stops120 + by);
  const width = 100 * picture.aspect.value;
  const words = `${kind} ${number}, ${label}, ${formatStops(stops120)} stop${isHidden ? ', hidden' : ''}`;
  const onKeyDown = (event: KeyboardEvent) => {
    const by = arrows[event.key];
    const stops = stopKeys[event.key];
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    if (by !== undefined) picture.reshape(area, event.shiftKey ? resized(shape, by) : moved(shape, by));
    else if (stops !== undefined) turn(stops);
    else if (event.key === 'h') picture.hide(area, !isHidden);
    else if (event.key !== ' ' && event.key !== 'Enter') return;
    event.preventDefault();
  };
  return (
    <g class={`area ${kind}${isChosen ? ' chosen' : ''}${isHidden ? ' hidden' : ''}`}>
      {/* biome-ignore lint/a11y/useSemanticElements: there is no button inside a drawing */}
      <g
        role="button"
        tabindex={0}
        aria-pressed={isChosen}
        aria-label={words}
        onFocus={() => picture.choose(place)}
        onKeyDown={onKeyDown}
        onPointerDown={drag(area, moved)}
        onWheel={(event) => {
          if (document.activeElement !== event.currentTarget) return;
          event.preventDefault();
          turn(event.deltaY < 0 ? WHEEL_STOPS120 : -WHEEL_STOPS120);
        }}
      >
        <AreaOutline shape={shape} width={width} />
        <NumberMark area={area} shape={shape} width={width} />
      </g>
      {isChosen && <Handles picture={picture} area={area} shape={shape} width={width} drag={drag} />}
    </g>
  );
}

interface MarkProps {
  readonly area: Area;
  readonly shape: Shape;
  readonly width: number;
}

function NumberMark({ area, shape, width }: MarkProps) {
  const [left, top, right, bottom] = outlineBox(shape);
  const onSheet = (percent: number) => Math.min(96, Math.max(4, percent));
  const [x, y] = [(onSheet((left + right) / 2) * width) / 100, onSheet((top + bottom) / 2)];
  return (
    <g class="number-mark">
      <circle cx={x} cy={y} r="3" />
      <text x={x} y={y + 1.35}>
        {area.number}
      </text>
    </g>
  );
}

/** Small squares that change the form, for the pointer: the keys have Shift and the fields. */
function Handles({ picture, area, shape, width, drag }: MarkProps & Omit<AreaProps, 'area'>) {
  if (shape.kind === 'edge') return null;
  if (shape.kind === 'polygon') return <Corners {...{ picture, area, shape, width, arrows, drag }} />;
  const [, , right, bottom] = outlineBox(shape);
  return (
    <rect
      class="handle"
      x={(right * width) / 100 - 1.2}
      y={bottom - 1.2}
      width="2.4"
      height="2.4"
      onPointerDown={drag(area, resized)}
    />
  );
}
