import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { planProblems, readRecipe } from '../../../recipe/index.js';
import { loadPlanner } from '../../../recipe/planner/index.js';
import type { SheetTold } from '../../server/nights/told.js';
import { paperInUse } from '../paper/paper-on-desk.js';
import { drawOn } from '../picture/frames.js';
import { ink } from '../picture/ink.js';
import { pictureOf } from '../picture/picture-on-desk.js';
import type { Planned } from '../picture/print-maker.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { isDark } from '../shell/theme.js';

interface Props {
  readonly sheet: SheetTold;
  readonly print: PrintOnDesk;
}

/** How the sheet looks by what was given, on the negative that lies on the desk: of another negative nothing is known. */
export function SheetPicture({ sheet, print }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { name, negative } = print.recipe.value;
  const isOnDesk = sheet.recipe === name || (negative !== '' && sheet.negative === negative);
  const isDrawn = useSignal(false);
  const dark = isDark.value;
  const paper = paperInUse.value?.figures;
  useEffect(() => {
    const given = isOnDesk ? plannedOf(sheet.given) : undefined;
    isDrawn.value = false;
    if (given === undefined) return;
    void draw(print, given, () => canvas.current).then(() => {
      isDrawn.value = true;
    });
  }, [isOnDesk, sheet.given, dark, paper]);
  if (sheet.given === '' || !isOnDesk) return null;
  return (
    <canvas
      ref={canvas}
      width="360"
      height="240"
      role="img"
      aria-busy={!isDrawn.value}
      aria-label={`Sheet ${sheet.name} as it was given`}
    />
  );
}

async function draw(
  print: PrintOnDesk,
  given: Planned,
  canvasNow: () => HTMLCanvasElement | null,
): Promise<void> {
  const { making, right = given } = pictureOf(print);
  const colours = await making.picture({
    ...{ print: given, right, size: 'live', ink: ink(), marked: false, which: 'beside' },
    paper: paperInUse.peek()?.figures,
  });
  const canvas = canvasNow();
  if (canvas !== null) drawOn(canvas, colours);
}

/** Undefined for what the core does not plan any more. */
function plannedOf(text: string): Planned | undefined {
  if (text === '') return undefined;
  const recipe = readRecipe(text);
  return planProblems(recipe).length > 0 ? undefined : { recipe, plan: loadPlanner().planRecipe(recipe) };
}
