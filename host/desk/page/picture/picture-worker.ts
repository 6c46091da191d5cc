import { type Asked, PrintMaker } from './print-maker.js';

const maker = new PrintMaker();
const page = globalThis as unknown as {
  onmessage: (event: MessageEvent<Asked>) => void;
  postMessage(answer: unknown, handedOver: Transferable[]): void;
};

/** Each question has one answer, in order. */
page.onmessage = ({ data }) => {
  try {
    answer(data);
  } catch (error) {
    page.postMessage({ refusal: (error as Error).message }, []);
  }
};

function answer(asked: Asked): void {
  if (asked.kind === 'negative') {
    maker.lay(asked.scan);
    page.postMessage({ made: undefined }, []);
  } else if (asked.kind === 'density') page.postMessage({ made: maker.densitiesAt(asked.x, asked.y) }, []);
  else {
    const made = maker.picture(asked.frame, asked.buffer);
    page.postMessage({ made }, [made.buffer]);
  }
}
