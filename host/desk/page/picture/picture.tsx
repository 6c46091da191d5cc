import type { PrintOnDesk } from '../print/print-on-desk.js';

interface Props {
  readonly print: PrintOnDesk;
}

/** The sheet as it would print. */
export function Picture({ print }: Props) {
  return (
    <section class="picture" aria-label="The picture">
      <p>{print.recipe.value.negative}</p>
    </section>
  );
}
