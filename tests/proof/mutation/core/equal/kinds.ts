/** Of changes and reasons that many lines have in common. */

export const sign = /_s as \w+_u$|_u as \w+_s$/;

/** The last byte of a record, where its longest text ends before that. */
export const padding = 'the record ends in padding, which is zero from the start and which nothing writes';
