import type { MessageOf } from '../../../shared-protocol/index.js';

/** A bath of a board's row, counted from 1, and what has gone through it since it was mixed. */
export type Bath = Omit<MessageOf<'bath'>, 'type' | 'id'>;

/** How long paper stays in the bath of that label when the tray is so warm; 0 for none of that paper. */
export type TemperatureTime = Omit<MessageOf<'bath-point'>, 'type' | 'id' | 'point' | 'points'>;

/** What a printer sets of a bath: whole seconds, 0 where that paper does not go in; whole cm2, 0 for no limit. */
export type BathTimes = Omit<MessageOf<'bath-set'>, 'type' | 'id' | 'bath' | 'baths'>;
