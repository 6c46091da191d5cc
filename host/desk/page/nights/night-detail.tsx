import type { NightTold } from '../../server/nights/told.js';
import type { PrintOnDesk } from '../print/print-on-desk.js';
import type { LookingBack } from './looking-back.js';
import { nightWords, timeWords } from './night-words.js';
import { Sheet } from './sheet.js';

interface Props {
  readonly looking: LookingBack;
  readonly print: PrintOnDesk;
}

/** A night, or all nights of a negative. */
export function NightDetail({ looking, print }: Props) {
  const { heading, nights } = looking.open.value!;
  const [earlier] = looking.earlier.value;
  const recipe = nights[0]?.sheets[0]?.recipe ?? '';
  return (
    <section class="night" aria-labelledby="night">
      <button type="button" class="back" onClick={() => looking.close()}>
        Back to the list
      </button>
      <h2 id="night">{heading}</h2>
      {nights.map((night) => (
        <OneNight key={JSON.stringify(night.key)} {...{ looking, print, night }} many={nights.length > 1} />
      ))}
      {earlier !== undefined && (
        <button type="button" onClick={() => void looking.moreOf(recipe)}>
          Earlier nights
        </button>
      )}
    </section>
  );
}

function OneNight({
  looking,
  print,
  night,
  many,
}: Props & { readonly night: NightTold; readonly many: boolean }) {
  return (
    <>
      {many && <p class="of">{nightWords(night.key)}</p>}
      {night.totals !== '' && <p>{night.totals}</p>}
      <p>
        <button type="button" onClick={() => void looking.page(night.key)}>
          The night as a page to print
        </button>
      </p>
      {night.sheets.map((sheet) => (
        <Sheet key={sheet.name} {...{ looking, print, sheet }} />
      ))}
      {night.events.length > 0 && (
        <>
          <h3>Baths and tests</h3>
          <ul>
            {night.events.map(({ at, words }, index) => (
              <li key={index}>
                {timeWords(at)} {words}
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}
