import { type ReadonlySignal, signal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { PictureOnDesk } from './picture-on-desk.js';
import type { Densities } from './print-maker.js';

/** The densities under the pointer, asked for one after another. */
export function useDensities(picture: PictureOnDesk) {
  return useMemo(() => {
    const densities = signal<Densities | undefined>(undefined);
    let wanted: readonly [number, number] | undefined;
    let asking = false;
    let isOver = false;
    async function ask() {
      asking = true;
      while (wanted !== undefined) {
        const [x, y] = wanted;
        wanted = undefined;
        const found = await picture.making.densitiesAt(x, y);
        if (isOver) densities.value = found;
      }
      asking = false;
    }
    return {
      densities,
      look: ({ currentTarget, clientX, clientY }: PointerEvent) => {
        const { left, top, width, height } = (currentTarget as Element).getBoundingClientRect();
        isOver = true;
        wanted = [(100 * (clientX - left)) / width, (100 * (clientY - top)) / height];
        if (!asking) void ask();
      },
      leave: () => {
        isOver = false;
        wanted = undefined;
        densities.value = undefined;
      },
    };
  }, [picture]);
}

interface Props {
  readonly densities: ReadonlySignal<Densities | undefined>;
}

export function DensityWords({ densities }: Props) {
  const found = densities.value;
  return (
    <p class="densities">
      {found === undefined
        ? 'Under the pointer: -'
        : `Under the pointer: print ${found.print.toFixed(2)}, negative ${found.negative.toFixed(2)}`}
    </p>
  );
}
