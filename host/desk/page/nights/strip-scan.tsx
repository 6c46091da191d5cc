import { useMemo } from 'preact/hooks';
import { hundredths, seconds } from '../../../figures.js';
import type { SheetTold } from '../../server/nights/told.js';
import type { StripTold } from '../../server/strips/told.js';
import { pictureOf } from '../picture/picture-on-desk.js';
import { newStep, type PrintOnDesk } from '../print/print-on-desk.js';
import { sentence, shownText } from '../shell/shown-text.js';
import { IntoProfile } from './into-profile.js';
import type { LookingBack } from './looking-back.js';
import { StripEdges } from './strip-edges.js';
import { StripOnDesk } from './strip-on-desk.js';

interface Props {
  readonly looking: LookingBack;
  readonly print: PrintOnDesk;
  readonly sheet: SheetTold;
}

/** The strip's own paper says what was right: its scan, chosen or dropped on the sheet. */
export function StripScan({ looking, print, sheet }: Props) {
  const strip = useMemo(() => new StripOnDesk(sheet), [sheet]);
  const told = strip.told.value;
  return (
    <section
      class="strip"
      aria-label={`Scan of sheet ${sheet.name}`}
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        void strip.take(event.dataTransfer?.files[0]);
      }}
    >
      <p class="actions">
        <label>
          Its scan, dry and with its white border, chosen or dropped here:{' '}
          <input
            type="file"
            accept="image/tiff,image/png,image/jpeg,.tif,.tiff"
            onChange={({ currentTarget }) => void strip.take(currentTarget.files?.[0])}
          />
        </label>
        <Tone strip={strip} />
      </p>
      {strip.reading.value !== '' && <p role="status">{whatIsRead(strip)}</p>}
      {strip.refusal.value !== '' && <p role="alert">{shownText(strip.refusal.value)}</p>}
      {strip.refusal.value !== '' && told !== undefined && (
        <p class="side">What stands below is of {shownText(strip.shown.value)}.</p>
      )}
      {told !== undefined && (
        <>
          <StripEdges strip={strip} />
          <p class="actions">
            <button
              type="button"
              disabled={!strip.moved.value && told.edges.length > 0}
              onClick={() => void strip.readByEdges()}
            >
              Read it by these edges
            </button>
            <span class="side">An edge that is wrong is dragged, or moved by the arrow keys.</span>
          </p>
          <OnNegative {...{ strip, print, told }} />
          {told.refused === null ? (
            <>
              <Figures {...{ looking, print, told }} />
              {told.filmTie === null && <IntoProfile {...{ strip, print, told }} />}
            </>
          ) : (
            <p role="alert">Not read: {told.why}.</p>
          )}
        </>
      )}
    </section>
  );
}

function whatIsRead({ reading, waiting }: StripOnDesk): string {
  const next = waiting.value === undefined ? '' : `; then ${shownText(waiting.value.name)}`;
  return `Reading ${shownText(reading.value)} ...${next}`;
}

/** A strip with a picture on it is read against the scan that lies on the desk. */
function OnNegative({
  strip,
  print,
  told,
}: Pick<Props, 'print'> & { readonly strip: StripOnDesk; readonly told: StripTold }) {
  const name = pictureOf(print).scanName.value;
  if (told.filmTie !== null) return <p>Read against {shownText(name)}, the negative's scan on the desk.</p>;
  if (name === '')
    return <p class="side">For a strip with a picture on it, lay its negative's scan on the desk.</p>;
  const scanIs = print.recipe.value.framing?.scanIs ?? 'negative';
  return (
    <p class="actions">
      <button type="button" onClick={() => void strip.readOnNegative(scanIs)}>
        It has a picture: read it against {shownText(name)}
      </button>
    </p>
  );
}

const tones = [
  ['0.6', 'middle grey, 0.60 above paper white'],
  ['zone 3', 'zone 3, dark with detail'],
  ['zone 4', 'zone 4'],
  ['zone 5', 'zone 5'],
  ['zone 6', 'zone 6'],
  ['zone 7', 'zone 7, light with detail'],
  ['zone 8', 'zone 8'],
] as const;

const IN_SCAN = 'in the scan';

function Tone({ strip }: { readonly strip: StripOnDesk }) {
  const choose = (value: string) => {
    if (value === IN_SCAN) strip.pointing.value = true;
    else void strip.readFor(value);
  };
  return (
    <>
      <label>
        the base for{' '}
        <select
          value={strip.pointing.value ? IN_SCAN : strip.tone.value}
          onChange={({ currentTarget }) => choose(currentTarget.value)}
        >
          {tones.map(([value, words]) => (
            <option value={value} key={value}>
              {words}
            </option>
          ))}
          <option value={IN_SCAN}>a grey in the scan, pointed at</option>
        </select>
      </label>
      {strip.pointing.value && <GreyInScan strip={strip} />}
    </>
  );
}

/** Clicked in the picture, or by its pixels. */
function GreyInScan({ strip }: { readonly strip: StripOnDesk }) {
  const place = /^at (.*)$/.exec(strip.tone.value)?.[1] ?? '';
  return (
    <label>
      click it in the scan, such as a patch of a grey scale, or give its pixels from left and top{' '}
      <input
        type="text"
        size={12}
        value={place}
        placeholder="1840,220"
        onChange={({ currentTarget }) => void strip.readForGreyAt(currentTarget.value)}
      />
    </label>
  );
}

function Figures({ looking, print, told }: Pick<Props, 'looking' | 'print'> & { readonly told: StripTold }) {
  const { baseMs, lowMs, highMs, whiteWithTone, fullBlack, isoR, tone, filmTie } = told;
  const tie = filmTie === null ? {} : { filmTie };
  const base = baseMs === null ? null : { ms: baseMs, lowMs: lowMs!, highMs: highMs! };
  const take = () => {
    print.change({ ...print.recipe.value, baseMs: baseMs!, ...tie }, newStep('base'));
    looking.came.value = `${seconds(baseMs!)} is the base of '${shownText(print.recipe.value.title)}' on the desk.`;
  };
  const keepTie = () => {
    print.change({ ...print.recipe.value, ...tie }, newStep('film and light'));
    looking.came.value = `'${shownText(print.recipe.value.title)}' keeps what the strip told of film and light.`;
  };
  return (
    <>
      <table>
        <thead>
          <tr>
            <th scope="col">exposure for</th>
            <th scope="col" class="number">
              time
            </th>
            <th scope="col">95 of 100 lie from</th>
            <th scope="col">to</th>
          </tr>
        </thead>
        <tbody>
          <Exposure what={`${tone!.toFixed(2)} above paper white`} of={base} />
          <Exposure what="faintest tone, 0.04 above white" of={whiteWithTone} />
          <Exposure what="full black, 90 % of the deepest" of={fullBlack} />
        </tbody>
      </table>
      {isoR !== null && (
        <p>
          ISO range R{Math.round(isoR.value)}, from R{Math.round(isoR.low)} to R{Math.round(isoR.high)} in 95
          of 100 cases.
        </p>
      )}
      <Chosen told={told} />
      {base !== null && (
        <p class="actions">
          <button type="button" onClick={take}>
            Make {seconds(base.ms)} the base of the print on the desk
          </button>
          {filmTie !== null && (
            <button type="button" onClick={keepTie}>
              Keep in it only what strip and negative told of film and light
            </button>
          )}
        </p>
      )}
    </>
  );
}

interface ExposureProps {
  readonly what: string;
  readonly of: { readonly ms: number; readonly lowMs: number; readonly highMs: number } | null;
}

function Exposure({ what, of }: ExposureProps) {
  return (
    <tr>
      <td>{what}</td>
      <td class="number">{of === null ? 'not on this strip' : seconds(of.ms)}</td>
      <td>{of === null ? '' : seconds(of.lowMs)}</td>
      <td>{of === null ? '' : seconds(of.highMs)}</td>
    </tr>
  );
}

/** Against what was taken in the dark, wet and by safelight. */
function Chosen({ told: { chosenMs, baseMs, lowMs, highMs } }: { readonly told: StripTold }) {
  if (chosenMs === null || baseMs === null) return null;
  const agrees = chosenMs >= lowMs! && chosenMs <= highMs!;
  const by = hundredths(Math.round(100 * Math.log2(baseMs / chosenMs)));
  return (
    <p>
      {sentence(
        `in the dark ${seconds(chosenMs)} was chosen: the scan ${agrees ? 'agrees' : 'disagrees'}, by ${by} stop.`,
      )}
    </p>
  );
}
