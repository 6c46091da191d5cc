import { useEffect, useRef } from 'preact/hooks';
import { shownText } from '../shell/shown-text.js';
import { drawAgainAndAgain, drawInRed } from './red-picture.js';
import type { Rehearsal } from './rehearsal.js';

interface Props {
  readonly rehearsal: Rehearsal;
}

/** The tray, and the sheet that comes up in it. */
export function TrayView({ rehearsal }: Props) {
  const { tray } = rehearsal;
  return (
    <section class="tray" aria-labelledby="tray">
      <h2 id="tray">In the tray</h2>
      {tray.finished.value === undefined ? (
        <p>Nothing yet: choose the baths with the knob, and the sheet goes in with the pedal.</p>
      ) : (
        <SheetInTray rehearsal={rehearsal} />
      )}
    </section>
  );
}

function SheetInTray({ rehearsal }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { tray } = rehearsal;
  const bath = tray.bath.value;
  const finished = tray.finished.value;
  useEffect(() => {
    const drawNow = () => drawInRed(canvas.current!, tray.picture(rehearsal.board.nowUs)!);
    drawNow();
    return tray.isComingUp ? drawAgainAndAgain(drawNow) : undefined;
  }, [tray, bath, finished]);
  return (
    <>
      <canvas ref={canvas} role="img" aria-label="The sheet in the tray, as the safelight shows it now" />
      <p>{wordsOf(bath, tray.isComingUp)}</p>
    </>
  );
}

function wordsOf(bath: string, isComingUp: boolean): string {
  if (bath === '') return 'Lifted out';
  return `In the ${shownText(bath)}${isComingUp ? ', coming up' : ''}`;
}
