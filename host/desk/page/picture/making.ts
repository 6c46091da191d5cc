import {
  type Asked,
  type Colours,
  type Densities,
  type Frame,
  PrintMaker,
  type ScanPixels,
} from './print-maker.js';

/** The one who works out pictures, wherever that is. Questions are answered one after another. */
export class Making {
  readonly #answer: (asked: Asked) => Promise<unknown>;

  constructor() {
    // A page that was opened as a file may have no worker.
    this.#answer = location.protocol === 'file:' ? onPage() : inWorker();
  }

  async lay(scan: ScanPixels): Promise<void> {
    await this.#answer({ kind: 'negative', scan });
  }

  picture(frame: Frame, buffer?: ArrayBuffer): Promise<Colours> {
    return this.#answer({ kind: 'picture', frame, buffer }) as Promise<Colours>;
  }

  densitiesAt(x: number, y: number): Promise<Densities | undefined> {
    return this.#answer({ kind: 'density', x, y }) as Promise<Densities | undefined>;
  }
}

type Answer = { readonly made: unknown } | { readonly refusal: string };

function inWorker(): (asked: Asked) => Promise<unknown> {
  const worker = new Worker('picture.js');
  const waiting: ((answer: Answer) => void)[] = [];
  worker.onmessage = ({ data }) => waiting.shift()?.(data);
  return async (asked) => {
    const answer = await new Promise<Answer>((resolve) => {
      waiting.push(resolve);
      worker.postMessage(asked, handedOver(asked));
    });
    if ('refusal' in answer) throw new Error(answer.refusal);
    return answer.made;
  };
}

/** What the page has no more use for is moved and not copied. */
function handedOver(asked: Asked): Transferable[] {
  if (asked.kind === 'negative') return [asked.scan.samples.buffer];
  return asked.kind === 'picture' && asked.buffer !== undefined ? [asked.buffer] : [];
}

function onPage(): (asked: Asked) => Promise<unknown> {
  const maker = new PrintMaker();
  return async (asked) => {
    // The page is drawn before the picture is begun.
    await new Promise((resolve) => setTimeout(resolve));
    if (asked.kind === 'negative') return maker.lay(asked.scan);
    if (asked.kind === 'density') return maker.densitiesAt(asked.x, asked.y);
    return maker.picture(asked.frame, asked.buffer);
  };
}
