import { framingLimits, noFraming } from '../../../recipe/framing.js';
import type { PictureOnDesk } from './picture-on-desk.js';

interface Props {
  readonly picture: PictureOnDesk;
}

/** Each blade, the one that it faces, and which way it goes in. */
const blades = [
  { blade: 'leftPercent', facing: 'rightPercent', side: 'left', inward: [1, 0] },
  { blade: 'topPercent', facing: 'bottomPercent', side: 'top', inward: [0, 1] },
  { blade: 'rightPercent', facing: 'leftPercent', side: 'right', inward: [-1, 0] },
  { blade: 'bottomPercent', facing: 'topPercent', side: 'bottom', inward: [0, -1] },
] as const;

type Blade = (typeof blades)[number];

/** The easel's four blades, to be drawn over the sheet and back by the pointer; the fields are for the keys. */
export function EaselBlades({ picture }: Props) {
  return (
    <>
      {blades.map((each) => (
        <div
          key={each.side}
          class={`blade ${each.side}`}
          title={`${each.side} blade`}
          onPointerDown={(event) => drag(event, picture, each)}
        />
      ))}
    </>
  );
}

/** By the sheet's size as it was when the blade was taken hold of: the sheet changes with it. */
function drag(event: PointerEvent, picture: PictureOnDesk, { blade, facing, inward }: Blade): void {
  if (event.button !== 0) return;
  const held = event.currentTarget as HTMLElement;
  const sheet = held.parentElement!.getBoundingClientRect();
  const before = picture.print.recipe.value.framing ?? noFraming;
  const shownPercent = 100 - before[blade] - before[facing];
  picture.beginStep();
  held.setPointerCapture(event.pointerId);
  const end = new AbortController();
  const { signal } = end;
  const go = (now: PointerEvent) => {
    const across = (inward[0] * (now.clientX - event.clientX)) / sheet.width;
    const along = (inward[1] * (now.clientY - event.clientY)) / sheet.height;
    const percent = before[blade] + shownPercent * (across + along);
    const most = framingLimits.bladesPercent - before[facing];
    picture.reframe({ [blade]: Math.round(10 * Math.min(most, Math.max(0, percent))) / 10 });
  };
  held.addEventListener('pointermove', go, { signal });
  for (const name of ['pointerup', 'pointercancel', 'lostpointercapture'])
    held.addEventListener(name, () => end.abort(), { signal });
}
