import type { MessageOf } from '../../../shared-protocol/index.js';

/** A bath of a board's row, counted from 1, and what has gone through it since it was mixed. */
export type Bath = Omit<MessageOf<'bath'>, 'type' | 'id'>;

/** What a printer sets of a bath: whole seconds, 0 where that paper does not go in; whole cm2, 0 for no limit. */
export type BathTimes = Omit<MessageOf<'bath-set'>, 'type' | 'id' | 'bath' | 'baths'>;
