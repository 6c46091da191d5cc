import { useMemo } from 'preact/hooks';
import type { SheetTold } from '../../server/nights/told.js';
import type { StripTold } from '../../server/strips/told.js';
import { pictureOf } from '../picture/picture-on-desk.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import { shownText } from '../shell/shown-text.js';
import { IntoProfile } from './into-profile.js';
import type { LookingBack } from './looking-back.js';
import { StripEdges } from './strip-edges.js';
import { StripFigures } from './strip-figures.js';
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
              <StripFigures {...{ looking, print, told }} />
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
